"""Rules for every test: nothing skipped in continuous integration, no deadlines, peers apart."""

from __future__ import annotations

import os
from collections.abc import Generator
from pathlib import Path

import pytest
from hypothesis import settings

IN_CI = os.environ.get("CI", "").lower() not in ("", "0", "false")
PEERS = "tests/peers"

# Collected only when asked for by path, as `./run peers` does.
collect_ignore = [PEERS]

settings.register_profile("patient", deadline=None)
if not IN_CI:  # there Hypothesis takes its own profile, with no deadline and the same cases each time
    settings.load_profile("patient")

Report = pytest.TestReport | pytest.CollectReport


def _fail_if_skipped(report: Report) -> None:
    """Turn a skip into a failure in continuous integration: there nothing may be left out unseen."""
    if IN_CI and report.skipped and not hasattr(report, "wasxfail"):
        reason = report.longrepr[2] if isinstance(report.longrepr, tuple) else str(report.longrepr)
        report.outcome = "failed"
        report.longrepr = f"skipped in CI, where every test must run: {reason}"


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport() -> Generator[None, pytest.TestReport, pytest.TestReport]:
    """Fail a test that skips itself in continuous integration."""
    report = yield
    _fail_if_skipped(report)
    return report


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report() -> Generator[None, pytest.CollectReport, pytest.CollectReport]:
    """Fail a module that skips itself in continuous integration."""
    report = yield
    _fail_if_skipped(report)
    return report


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter, config: pytest.Config) -> None:
    """Say in one line what was left out."""
    whole = config.args_source is not pytest.Config.ArgsSource.ARGS
    if whole and (Path(config.rootpath) / PEERS).is_dir():
        terminalreporter.write_line(f"Left out: {PEERS} (large independent programs); ./run peers runs them.")
