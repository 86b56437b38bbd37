"""``python -m sightwash.office``: bring the database up to date, then serve on this machine.

``python -m sightwash.office backup FILE`` and its like run one of COMMANDS instead.
"""

from __future__ import annotations

import argparse
import os
import signal
import socket
import sys
from collections.abc import Sequence
from typing import Any, Final

import django
from django.core.management import CommandError, call_command, execute_from_command_line

LOOPBACK: Final = ("127.0.0.1", "localhost", "::1")
COMMANDS: Final = ("backup", "restore", "new_firm")


def main(arguments: Sequence[str] | None = None) -> int:
    """Serve the office until stopped, or run one command."""
    words = list(sys.argv[1:] if arguments is None else arguments)
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "sightwash.office.settings")
    if words and words[0] in COMMANDS:
        django.setup()
        _prepare(demo=False)
        execute_from_command_line(["sightwash office", *words])
        return 0
    parser = argparse.ArgumentParser(prog="sightwash serve", description="Serve the office on this machine.")
    parser.add_argument("--host", default="127.0.0.1", help="address to listen on; 127.0.0.1 is this machine only")
    parser.add_argument("--port", type=int, default=8420, help="port to listen on (8420)")
    parser.add_argument("--demo", action="store_true", help="fill an empty office with the example property")
    options = parser.parse_args(words)
    django.setup()
    try:
        _prepare(options.demo)
    except CommandError as error:
        sys.stderr.write(f"error: {error}\n")
        return 2
    return _serve(options.host, options.port)


def _say(words: str) -> None:
    sys.stdout.write(f"{words}\n")
    sys.stdout.flush()


def _prepare(demo: bool) -> None:
    """Make the data folder and bring the database up to date; fill it for the demo."""
    from sightwash.office.settings import HOME

    HOME.mkdir(mode=0o700, parents=True, exist_ok=True)
    call_command("migrate", interactive=False, verbosity=0)
    if demo:
        call_command("demo")


def _behind_proxy() -> dict[str, Any]:
    """Return whose word is taken for what a request was before it reached us: the proxy's, where there is one."""
    from sightwash.office.settings import HTTPS

    if not HTTPS:
        return {}
    headers = {"x-forwarded-proto", "x-forwarded-for"}
    return {"trusted_proxy": os.environ.get("SIGHTWASH_PROXY", "127.0.0.1"), "trusted_proxy_headers": headers}


def _serve(host: str, port: int) -> int:
    """Listen until stopped; a stop by signal lets the answers that are under way be finished."""
    from waitress.server import create_server

    from sightwash.office.settings import LARGEST_UPLOAD
    from sightwash.office.wsgi import application

    try:
        place = socket.create_server((host, port), family=socket.AF_INET6 if ":" in host else socket.AF_INET)
    except (OSError, OverflowError) as error:
        reason = os.strerror(error.errno) if isinstance(error, OSError) and error.errno else str(error)
        sys.stderr.write(f"error: cannot listen on {host}:{port}: {reason}; choose another --port\n")
        return 2
    largest = LARGEST_UPLOAD + 1_000_000
    server = create_server(
        application, sockets=[place], threads=8, max_request_body_size=largest, ident="office", **_behind_proxy()
    )
    signal.signal(signal.SIGTERM, lambda _number, _frame: sys.exit(0))
    if host not in LOOPBACK:
        _say("Others on this network can reach the office now. Without a certificate passwords travel unprotected:")
        _say("docs/office.md says how to put one before it.")
    _say(f"The office is open at http://{host}:{port}/ (stop it with Ctrl-C)")
    server.run()
    return 0


if __name__ == "__main__":
    sys.exit(main())
