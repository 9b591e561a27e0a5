"""Papers: what an action knows, laid out by `spares.paper`. One paper a file; `paper` prints."""
