"""Every failure mode of `tables/modes` is shown by its example: judged, cautioned, or said to be outside."""

from __future__ import annotations

import json
import shlex
from pathlib import Path
from typing import Any

import pytest

from jointcalc.check import all_methods
from jointcalc.cli.main import run
from jointcalc.registry import BY_KEY
from jointcalc.result.cautions import all_cautions

from .generate import OUTCOMES, failure_modes

LOG = "date,machine,setting,stack,test,button mm,load N,mode,note"
"""First line of a log of coupons."""
MODES = [(kind, mode) for kind, modes in failure_modes().items() for mode in modes]


def test_every_kind_has_its_modes() -> None:
    assert set(failure_modes()) == {*BY_KEY, "coupons"}


@pytest.mark.parametrize("kind,mode", MODES, ids=[f"{kind}-{mode['name']}" for kind, mode in MODES])
def test_mode(
    kind: str, mode: dict[str, Any], capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert set(mode) <= {"name", "outcome", "by", "source", "example", "says", "log"}
    if "log" in mode:
        monkeypatch.chdir(tmp_path)
        (tmp_path / "log.csv").write_text("\n".join([LOG, *mode["log"], ""]), encoding="utf-8")
    assert mode["outcome"] in OUTCOMES
    assert mode["source"]
    assert mode["name"]
    with pytest.raises(SystemExit) as stopped:
        run([*shlex.split(mode["example"]), "--json"])
    assert stopped.value.code in (0, 1), capsys.readouterr().err
    answer = json.loads(capsys.readouterr().out)
    results = answer.get("items", [answer])
    assert all(r["kind"] == kind for r in results)
    checks = [c for r in results for c in r["checks"]]
    known = all_methods()

    def of(check: dict[str, Any]) -> set[str]:
        # a key may carry a place behind the method's: `en1993-1-3.tearing.1-2`
        return {key for key in mode["by"] if check["key"] == key or check["key"].startswith(f"{key}.")}

    if mode["outcome"] == "judged":
        assert set(mode["by"]) <= set(known)
        assert any(of(c) and c["status"] in ("ok", "over") and c["demand"]["value"] for c in checks)
    elif mode["outcome"] == "cautioned":
        assert set(mode["by"]) <= set(all_cautions())
        assert {c["code"] for r in results for c in r["cautions"]} & set(mode["by"])
    else:
        assert set(mode["by"]) <= set(known)
        assert any(r["status"] == "outside" for r in results) or any(of(c) and c["status"] == "outside" for c in checks)
