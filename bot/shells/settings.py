"""What a person sets once, in settings.toml: where the cases are kept and what this seat is called."""

from __future__ import annotations

import os
from pathlib import Path

from bot.frozen import dataclass
from bot.problems import LeglineError

_MOST = 65_536  # bytes; a settings file has a few lines


class SettingsProblem(LeglineError):
    """The settings cannot be used; the text says which file, what, and how it should read."""


@dataclass(frozen=True)
class Settings:
    """The settings with their defaults. `store` "" is the file in the data folder, else a postgresql:// URL."""

    store: str = ""
    seat: str = ""


def settings_file() -> Path:
    """Where the settings are looked for; LEGLINE_SETTINGS in the environment moves it."""
    named = os.environ.get("LEGLINE_SETTINGS")
    if named:
        return Path(named)
    if os.name == "posix" and os.uname().sysname != "Darwin":
        base = os.environ.get("XDG_CONFIG_HOME")
        return (Path(base) if base else Path.home() / ".config") / "legline" / "settings.toml"
    import platformdirs

    return Path(platformdirs.user_config_dir("legline", False)) / "settings.toml"


def read_settings(file: Path | None = None) -> Settings:
    """The settings; the defaults where there is no file. Raises SettingsProblem."""
    file = file or settings_file()
    try:
        with file.open("rb") as opened:
            raw = opened.read(_MOST + 1)
    except (FileNotFoundError, NotADirectoryError):
        return Settings()
    except OSError as fault:
        raise SettingsProblem(f"{file} cannot be read: {fault.strerror or fault}.") from fault
    if len(raw) > _MOST:
        raise SettingsProblem(f"{file} is too long for settings.")
    import tomllib

    try:
        found = tomllib.loads(raw.decode("utf-8"))
    except (ValueError, RecursionError) as fault:
        raise SettingsProblem(
            f'{file} is not in the form of settings: {str(fault)[:200]}. A line reads: seat = "desk 3"'
        ) from fault
    for name, value in found.items():
        if name not in ("store", "seat"):
            raise SettingsProblem(f'{file}: "{name[:40]}" is no setting; there are store and seat.')
        if not isinstance(value, str) or len(value) > 500 or not value.isprintable():
            raise SettingsProblem(f"{file}: {name} takes one line of text in quotes.")
    settings = Settings(**found)
    if settings.store and not settings.store.startswith(("postgresql://", "postgres://")):
        raise SettingsProblem(
            f"{file}: store takes a URL that begins with postgresql://, or leave it out for the file on this machine."
        )
    return settings
