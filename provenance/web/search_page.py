"""Pages."""

from flask import Blueprint

pages = Blueprint("search_page", __name__)
