"""Pages."""

from flask import Blueprint

pages = Blueprint("source_pages", __name__)
