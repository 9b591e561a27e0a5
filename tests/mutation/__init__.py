"""Would the tests notice? Every rule, tolerance, severity and table value, made wrong once.

    python3 -m spares test tests/mutation               # a sample of 100, in seconds
    python3 -m spares test tests/mutation --long        # all of them, about half an hour
    python3 -m tests.mutation [-j 2] [--only WORD] [--results FILE] [--again FILE]

The last form, with the environment's Python, prints each survivor as it is met; `--only` takes a
pattern for the ids, `--again` takes the mutants that survived in an earlier FILE of `--results`.

What is made wrong: `spares/domain/fit` (code, kind sheets, named changes), `cooling`, `torque`,
and every cell of the published tables, one thing a mutant (`code.py`, `data.py`). Nothing is
written to disk: tests are collected once, then each mutant lives in a forked child (`run.py`),
which runs the tests that came near it, likeliest killer first, and stops at the first that fails.

A mutant is named by file, function or key, and what was changed; never by line. Words on screen
(labels, reasons, sources, remarks) are left alone. A wrong table value has to be noticed by a
comparison with something outside (`published`, `vectors`, `domain`), never by a copy of the file:
the tests that hold phone and server together are asked about code only.

Killed is what a test noticed: it failed, or the mutant's own code took longer than its time limit.
A child that breaks down otherwise tells nothing of its mutant, and the run fails and says how. So
it does where a test fails or phone and server differ without any mutant, and where one of the
unchanged "mutants" put among the others is killed. `planted.py` holds the run to this.

`survivors.toml` lists what may live, and why. The run fails where a survivor is not listed, or
where fewer than 95 of 100 are killed. `sample.json` is the seeded sample of the quick run, each
mutant with a test that killed it; `--write-sample` draws it anew from the results of a whole run.
"""
