"""Planning a trip: running hours, energy, fuel, services that fall due, spares to have."""

from __future__ import annotations

from spares.domain.trip.answer import PartLine, ServicePlan, StopLine, StopPlan, TripPlan
from spares.domain.trip.energy import Balance, Bank, Charge, ChargeAnswer, Generator, Simple, charge
from spares.domain.trip.fuel import FuelTable
from spares.domain.trip.plan import plan_trip
from spares.domain.trip.request import Burn, Leg, Lot, Part, Stop, Trip, TripRequest

__all__ = [
    "Balance", "Bank", "Burn", "Charge", "ChargeAnswer", "FuelTable", "Generator", "Leg", "Lot",
    "Part", "PartLine", "ServicePlan", "Simple", "Stop", "StopLine", "StopPlan", "Trip",
    "TripPlan", "TripRequest", "charge", "plan_trip",
]
