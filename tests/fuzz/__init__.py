"""Mutated project files and command lines: never a traceback, never a hang, never exit 0 on nonsense."""
