"""The screen in a browser, on this machine's own address only."""
