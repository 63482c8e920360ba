"""The command line: thin, one module per command, heavy imports only where a command needs them."""
