"""The words that options take. They stand apart from the list of commands, which only help and completion read."""

FORMS = ("md", "html", "pdf", "json")
WORDINGS = ("owner", "phone", "tech")
UNITS = ("us", "metric")
COLOURS = ("dark", "light", "plain")
SHELLS = ("bash", "zsh", "fish")
