"""Pages."""

from flask import Blueprint

pages = Blueprint("machine_pages", __name__)
