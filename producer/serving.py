"""How gunicorn serves the site: `gunicorn --config python:producer.serving producer.wsgi`.

Loopback only; a real installation puts a proxy that speaks HTTPS in front. PRODUCER_PORT says where
(default 8000). The application is loaded in each worker, not before the fork: the PDF library must
not be carried across one.
"""

import os
from typing import Any

bind = f"127.0.0.1:{os.environ.get('PRODUCER_PORT', '8000')}"
workers = 2
threads = 4
worker_class = "gthread"
timeout = 120  # a sheet of several hundred different labels takes its time
graceful_timeout = 5
loglevel = "warning"
control_socket_disable = True


def when_ready(server: Any) -> None:
    """Print the address once it can be opened, and not before."""
    if os.environ.get("PRODUCER_DEMO") != "1":
        return
    print(  # noqa: T201
        f"\nThe demo kitchen is open at  http://{bind}/\n"
        "To sign in, press the one button on that page; no password is needed.\n"
        "It is kept apart from your own data. Ctrl-C closes it; the next start finds it as it was.",
        flush=True,
    )
