"""Pages."""

from flask import Blueprint

pages = Blueprint("fitting_pages", __name__)
