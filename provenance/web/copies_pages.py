"""Pages."""

from flask import Blueprint

pages = Blueprint("copies_pages", __name__)
