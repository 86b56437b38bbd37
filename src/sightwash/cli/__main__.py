"""``python -m sightwash.cli``."""

import sys

from sightwash.cli.main import main

sys.exit(main())
