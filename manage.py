#!/usr/bin/env python3
"""Start here: `python3 manage.py demo`, or `python3 manage.py test`.

Standard library only, and in words any Python 3 can read: this file also runs on a machine where
nothing is installed yet. The setting-up itself is in producer/bootstrap.py.
"""

import os
import sys

ROOT = os.path.dirname(os.path.abspath(__file__))


def main():
    if sys.version_info < (3, 11):
        sys.exit(
            "This needs Python 3.11 or newer; this is Python %d.%d. Debian 12 has 3.11; where "
            "several are installed, say which: python3.11 manage.py demo" % sys.version_info[:2]
        )
    if os.name == "nt":
        sys.exit("On Windows, run this inside WSL (Debian or Ubuntu): https://aka.ms/wsl")
    if ROOT not in sys.path:
        sys.path.insert(0, ROOT)
    from producer import bootstrap

    command = sys.argv[1] if len(sys.argv) > 1 else "help"
    bootstrap.ensure_environment(command, arguments=sys.argv[1:])

    if command == "demo":
        os.environ["PRODUCER_DEMO"] = "1"
    if command == "test":
        from producer import quality

        sys.exit(quality.run(sys.argv[2:]))

    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "producer.settings")
    try:
        from django.core.management import execute_from_command_line
    except ModuleNotFoundError:
        sys.exit(
            "Django cannot be found in %s. Delete that folder and start again: it is made anew."
            % sys.prefix
        )
    execute_from_command_line(sys.argv)


if __name__ == "__main__":
    try:
        main()
    except KeyboardInterrupt:
        print("\nStopped.")
        sys.exit(130)
