"""Does this part fit this place: kind sheets, designations, judges, the verdict.

`check_fit(FitRequest) -> FitVerdict` is the way in. Where many parts are held against one fit
point, `prepare_point` and `prepare_part` read each of them once and `check(point, part)` decides;
`sheet(kind)` and `load_sheets()` give the kind sheets.
"""

from spares.domain.fit.own_sheets import load_sheets
from spares.domain.fit.prepared import PreparedPart, PreparedPoint, prepare_part, prepare_point
from spares.domain.fit.sheets import KindSheet, named_changes, sheet
from spares.domain.fit.values import (
    Claim,
    FitRequest,
    FitVerdict,
    Link,
    Origin,
    Place,
    Row,
)
from spares.domain.fit.verdict import check, check_fit

__all__ = ["Claim", "FitRequest", "FitVerdict", "KindSheet", "Link", "Origin", "Place",
           "PreparedPart", "PreparedPoint", "Row", "check", "check_fit", "load_sheets",
           "named_changes", "prepare_part", "prepare_point", "sheet"]
