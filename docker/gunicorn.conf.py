"""Gunicorn settings of the image. They are the package's own, so that image and ``nailplate serve`` run alike."""

from nailplate.web import gunicorn_settings

globals().update({name: value for name, value in vars(gunicorn_settings).items() if not name.startswith("_")})
