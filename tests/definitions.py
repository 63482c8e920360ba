"""What a module defines at its top level, by name, for the tests that follow a name through the code."""

from __future__ import annotations

import ast


def definitions(tree: ast.Module) -> dict[str, ast.AST]:
    """Name -> the function or class, or the value of the constant, that stands for it at the top of a module."""
    own: dict[str, ast.AST] = {}
    for node in tree.body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef):
            own[node.name] = node
        elif isinstance(node, ast.Assign):
            own.update({t.id: node.value for t in node.targets if isinstance(t, ast.Name)})
        elif isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name) and node.value:
            own[node.target.id] = node.value
    return own
