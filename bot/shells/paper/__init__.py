"""The record of a case as a page to hand over: gathered once from its events, then set as Markdown, HTML or PDF."""
