"""Pages."""

from flask import Blueprint

pages = Blueprint("tiles", __name__)
