"""Bring a store to this program's version, step by step, or leave it as it was."""

from __future__ import annotations

from contextlib import AbstractContextManager, nullcontext
from pathlib import Path
from typing import TYPE_CHECKING, Any

from spares.errors import SparesError, StoreDamaged, UpgradeFailed

if TYPE_CHECKING:
    from sqlalchemy import Engine

LATEST = "0012"
STEPS = Path(__file__).parent / "upgrades"


def version_of(engine: Engine) -> str | None:
    """Give the step at which the store stands, None for an empty file.

    Raises:
        StoreDamaged: there are tables, but not ours.
    """
    from sqlalchemy import inspect, text  # late: few runs upgrade anything

    names = set(inspect(engine).get_table_names())
    if not names:
        return None
    if "alembic_version" not in names:
        raise StoreDamaged("this file holds something else than a store of spares")
    with engine.connect() as connection:
        return connection.execute(text("SELECT version_num FROM alembic_version")).scalar()


def known_steps() -> set[str]:
    """Give the steps that this version knows."""
    from alembic.script import ScriptDirectory

    return {step.revision for step in ScriptDirectory.from_config(_config()).walk_revisions()}


def bring_up(engine: Engine, to: str = "head") -> None:
    """Run the steps that the store lacks, each whole in a transaction of its own.

    Raises:
        UpgradeFailed: the store is newer than the program, or a step failed.
    """
    if version_of(engine) == LATEST and to == "head":
        return
    with _alone(engine):
        _run(engine, version_of(engine), to)


def _alone(engine: Engine) -> AbstractContextManager[None]:
    """Let one process bring a database up; a file is locked by each step itself."""
    if engine.dialect.name == "sqlite":
        return nullcontext()
    from spares.db.postgresql import upgrading
    return upgrading(engine)


def _run(engine: Engine, now: str | None, to: str) -> None:
    from alembic import command

    config = _config()
    config.attributes["engine"] = engine
    if now is not None and now not in known_steps():
        raise UpgradeFailed(f"the store is at step {now}, which this version does not know: "
                            "use the newer program; nothing was changed")
    try:
        command.upgrade(config, to)
    except SparesError:
        raise
    except Exception as err:
        stays = version_of(engine) or "none"
        raise UpgradeFailed(f"the store stays at step {stays}: {err}") from err


def _config() -> Any:
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", str(STEPS))
    config.set_main_option("path_separator", "os")
    return config
