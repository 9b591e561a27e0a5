"""The tests of this project: this file makes them a package that no other `tests` can hide.

One of the reference packages installs a top-level package of the same name.
"""
