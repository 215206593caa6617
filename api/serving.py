"""How gunicorn serves Dialset: ``gunicorn -c python:api.serving``, which is what ``dialset serve`` runs."""

import gc
from pathlib import Path
from typing import Any

wsgi_app = "api.app:create_app()"
bind = "127.0.0.1:8000"
# Two workers of a few threads: a slow client cannot hold a whole worker. More where there are more cores.
workers = 2
worker_class = "gthread"
threads = 4
# Tables and unit factors are read once and shared; a bad setting shows before the first request.
preload_app = True
# Longer than the keep-alive of a proxy in front, which must close first.
keepalive = 75
# A heartbeat file on a disk may block; macOS has no folder in memory, and gunicorn chooses one itself there.
worker_tmp_dir = "/dev/shm" if Path("/dev/shm").is_dir() else None
# The control socket writes to the home folder, which a locked-down service does not have.
control_socket_disable = True
# A long query of a cell fits; the default of 4094 bytes does not hold every field in words.
limit_request_line = 8190


def when_ready(server: Any) -> None:
    """Keep what the workers share out of their garbage collections, which would copy it: 9 MiB a worker."""
    gc.collect()
    gc.freeze()
