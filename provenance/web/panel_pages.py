"""Pages."""

from flask import Blueprint

pages = Blueprint("panel_pages", __name__)
