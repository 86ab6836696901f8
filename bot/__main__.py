"""python -m bot is legline."""

import sys

from bot.cli import main

sys.exit(main())
