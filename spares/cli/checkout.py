"""`spares test` and `spares bench`: for a checkout, where the tests are."""

from __future__ import annotations

import click

_PASSED_ON = {"ignore_unknown_options": True, "allow_extra_args": True}


@click.command(context_settings=_PASSED_ON, add_help_option=False)
@click.pass_context
def test(ctx: click.Context) -> int:
    """Run the tests of a checkout.

    --slow runs the slow ones alone, --long all there are, with ten thousand
    cases each; other words go to pytest.

    \b
    Example:  python3 -m spares test
              python3 -m spares test tests/domain -k stock
    """
    from spares import selftest

    return selftest.main(["test", *ctx.args])


@click.command(context_settings=_PASSED_ON, add_help_option=False)
@click.pass_context
def bench(ctx: click.Context) -> int:
    """Run the benches of a checkout.

    Their figures are printed beside those of the last run.

    \b
    Example:  python3 -m spares bench
    """
    from spares import selftest

    return selftest.main(["bench", *ctx.args])


COMMANDS = (test, bench)
