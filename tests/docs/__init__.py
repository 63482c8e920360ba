"""The documentation is run: commands, outputs, examples; `python -m tests.docs` writes its generated pages."""
