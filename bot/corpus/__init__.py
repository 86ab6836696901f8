"""The hand-written corpus: closed word lists, frozen pages, a reader that knows line numbers, a check."""
