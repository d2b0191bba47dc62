"""What every test of the intake needs: a file with given text, and the faults of a refusal."""

import pytest

from fieldapp.errors import IntakeRefused


@pytest.fixture
def written(tmp_path):
    """Writes text or bytes to a file of the given name and gives its path."""

    def write(content, name="file.csv"):
        path = tmp_path / name
        path.write_bytes(content if isinstance(content, bytes) else content.encode("utf-8"))
        return path

    return write


@pytest.fixture(scope="session")
def faults_of():
    """Calls a reader that must refuse, and gives its faults."""

    def call(reader, *arguments, **named):
        with pytest.raises(IntakeRefused) as refusal:
            reader(*arguments, **named)
        faults = list(refusal.value.faults)
        assert str(refusal.value).splitlines() == faults, "one line for each fault"
        return faults

    return call


@pytest.fixture(scope="session")
def is_read_or_refused():
    """Whether a reader either reads or refuses in whole lines; any other exception is a bug."""

    def call(reader, *arguments, **named):
        try:
            reader(*arguments, **named)
        except IntakeRefused as error:
            return str(error).splitlines() == list(error.faults) != []
        return True

    return call


@pytest.fixture(scope="session")
def any_file(tmp_path_factory):
    """Writes bytes to one file again and again: for tests with many cases."""
    folder = tmp_path_factory.mktemp("any")

    def write(content, name="any.csv"):
        path = folder / name
        path.write_bytes(content)
        return path

    return write
