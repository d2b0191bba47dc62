"""What holds for every test: no skip in CI, repeatable random cases, nobody's own data touched.

Not here: fixtures of one room (they stand beside that room's tests) and the tools' settings
(``pyproject.toml``).
"""

import os
import shutil

import hypothesis
import pytest

# In CI the same cases every time, so that a red run can be run again. "deep" searches at random:
# python3 tests/run.py --fast -- --hypothesis-profile=deep
hypothesis.settings.register_profile(
    "ci",
    max_examples=100,
    deadline=None,  # shared machines are slow now and then, and slow is not wrong
    derandomize=True,
    print_blob=True,
    suppress_health_check=[hypothesis.HealthCheck.too_slow],
)
hypothesis.settings.register_profile(
    "deep",
    max_examples=5000,
    deadline=None,
    derandomize=False,
    print_blob=True,
    suppress_health_check=[hypothesis.HealthCheck.too_slow],
)
hypothesis.settings.load_profile("ci")


def in_ci() -> bool:
    return os.environ.get("CI", "").lower() == "true"


def refuse_skip(report):
    """Turn a skip into a failure in CI, where everything needed must have been installed."""
    if in_ci() and report.outcome == "skipped" and not hasattr(report, "wasxfail"):
        reason = report.longrepr[2] if isinstance(report.longrepr, tuple) else report.longrepr
        report.outcome = "failed"
        report.longrepr = f"nothing may be skipped in CI, and this was: {reason}"
    return report


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport():
    return refuse_skip((yield))


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report():
    return refuse_skip((yield))


@pytest.fixture(scope="session", autouse=True)
def away_from_the_users_data(tmp_path_factory):
    """A test that forgets to name its database meets an empty folder, not somebody's record."""
    empty = tmp_path_factory.mktemp("no-user-data")
    with pytest.MonkeyPatch.context() as patch:
        patch.delenv("TUBEWRIGHT_DATA", raising=False)
        for name in ("XDG_DATA_HOME", "XDG_CONFIG_HOME", "LOCALAPPDATA"):
            patch.setenv(name, str(empty))
        yield


@pytest.fixture(scope="session")
def chromium(tmp_path_factory):
    """The beginning of a command that runs a browser without a screen and without a network.

    A test adds ``--dump-dom`` or ``--screenshot=FILE`` and the page.
    """
    path = shutil.which("chromium")
    if path is None:
        pytest.skip("chromium is missing (as root: apt-get install chromium)")
    return [
        path,
        *("--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage"),
        *("--no-first-run", "--disable-background-networking", "--disable-component-update"),
        *("--disable-sync", "--disable-quic", "--hide-scrollbars"),
        f"--user-data-dir={tmp_path_factory.mktemp('chromium')}",
    ]
