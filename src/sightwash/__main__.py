"""``python -m sightwash``."""

import sys

from sightwash.cli.main import main

sys.exit(main())
