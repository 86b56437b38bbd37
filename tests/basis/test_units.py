"""Units: factors, the grammar of typed quantities, and showing them.

Checked against: Pint (independent program, its own registry of units) for every factor and every sum of units;
NIST SP 811, 2008, appendix B.8 (published) for the exact foot, inch, gallon and pound; closed forms for the
temperature scales. Round trips are properties.
"""

from __future__ import annotations

import copy
import math
import pickle
from typing import Any

import pint
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from sightwash.basis import units
from sightwash.basis.errors import InputError
from sightwash.basis.units import (
    ANGLE,
    AREA,
    BORE,
    COUNT_RATE,
    DAYS,
    DENSITY,
    DOSE,
    FLOW,
    HOURS,
    LENGTH,
    MASS,
    PRESSURE,
    RATIO,
    SMALL_VOLUME,
    SPEED,
    TEMPERATURE,
    TEMPERATURE_RISE,
    VOLUME,
    YEARS,
    Measure,
    QuantityKind,
    convert,
    feet_and_inches,
    in_unit,
    parse_quantity,
    show,
    significant,
)

KINDS = [kind for kind in vars(units).values() if isinstance(kind, QuantityKind)]
REGISTRY: Any = pint.UnitRegistry()

# Our short name: Pint's name. Money has no place in Pint.
NAMES = {
    "m": "meter", "cm": "centimeter", "mm": "millimeter", "km": "kilometer", "ft": "foot", "in": "inch", "yd": "yard",
    "mi": "mile", "mil": "thou", "ha": "hectare", "L": "liter",
    "mL": "milliliter", "gal": "gallon", "qt": "quart", "pt": "pint", "cup": "cup", "floz": "fluid_ounce",
    "kg": "kilogram", "g": "gram", "mg": "milligram", "lb": "pound", "oz": "ounce", "s": "second", "min": "minute",
    "h": "hour", "day": "day", "week": "week", "month": "month", "year": "year", "deg": "degree", "rad": "radian",
    "arcmin": "arcminute", "K": "kelvin", "mph": "mile/hour", "kn": "knot", "N": "newton", "lbf": "force_pound",
    "Pa": "pascal", "kPa": "kilopascal", "MPa": "megapascal", "bar": "bar", "psi": "psi", "psf": "force_pound/foot**2",
    "hPa": "hectopascal", "W": "watt", "kW": "kilowatt", "hp": "horsepower", "%": "percent", "1": "dimensionless",
    "each": "dimensionless",
}  # fmt: skip
SURVEY = {"acre"}
MONEY = {"USD", "$", "EUR", "CAD"}


def pint_name(unit: str) -> str:
    """Return one of our units, such as ``ft2/gal``, as Pint writes it."""
    over, *under = unit.split("/")
    parts = []
    for group in (over, *under):
        name, power = (group[:-1], group[-1]) if group[-1] in "23" else (group, "1")
        parts.append(f"({NAMES[name]})**{power}")
    return " / ".join(parts)


def peer(value: float, unit: str, to: str) -> float:
    """Return what Pint makes of a value."""
    return float(REGISTRY.Quantity(value, pint_name(unit)).to(pint_name(to)).magnitude)


@pytest.mark.parametrize("unit", sorted(set(units._UNITS) - MONEY - SURVEY))
def test_every_factor_agrees_with_pint(unit: str) -> None:
    base = REGISTRY.Quantity(1.0, NAMES[unit]).to_base_units()
    factor, dimension = units._UNITS[unit]
    expected = base.to("degree").magnitude if unit in ("deg", "rad", "arcmin") else base.magnitude
    assert factor == pytest.approx(expected, rel=1e-12)
    powers = {"[length]": dimension[0], "[mass]": dimension[1], "[time]": dimension[2], "[temperature]": dimension[4]}
    assert dict(base.dimensionality) == {name: power for name, power in powers.items() if power}


def test_the_units_of_money_are_not_converted_into_each_other_or_anything() -> None:
    assert {units._UNITS[name] for name in MONEY} == {(1.0, (0, 0, 0, 0, 0, 1))}
    with pytest.raises(ValueError, match="do not measure the same"):
        convert(1.0, "USD", "1")


def test_the_acre_is_that_of_the_international_foot() -> None:
    """NIST SP 811 B.8 gives 4046.873 m2 on the survey foot, as Pint does; 4 parts in a million lie between them."""
    assert convert(1.0, "acre", "m2") == pytest.approx(4046.873, rel=5e-6)
    assert convert(1.0, "acre", "m2") == pytest.approx(REGISTRY.Quantity(1.0, "acre").to("m**2").magnitude, rel=5e-6)
    assert convert(1.0, "acre", "m2") == pytest.approx(43560 * 0.3048**2, rel=1e-15)


def test_exact_factors_as_published() -> None:
    """NIST SP 811 (2008), appendix B.8, factors in bold type, which are exact."""
    assert convert(1, "ft", "m") == 0.3048
    assert convert(1, "in", "m") == 0.0254
    assert convert(1, "mi", "m") == 1609.344
    assert convert(1, "gal", "L") == pytest.approx(3.785411784, rel=1e-15)
    assert convert(1, "lb", "kg") == 0.45359237
    assert convert(1, "lbf", "N") == pytest.approx(4.4482216152605, rel=1e-15)
    assert convert(1, "psi", "Pa") == pytest.approx(6894.757, rel=5e-8)
    assert convert(1, "mph", "m/s") == 0.44704


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_every_kinds_door_units_agree_with_pint(kind: QuantityKind) -> None:
    if kind is TEMPERATURE:
        for typed, name in (("F", "degF"), ("C", "degC")):
            assert convert(50.0, typed, "degC") == pytest.approx(REGISTRY.Quantity(50.0, name).to("degC").magnitude)
        return
    for unit in {kind.us, kind.metric}:
        expected = 5 / 9 if unit == "F" else peer(1.0, unit, kind.inner)
        assert convert(1.0, unit, kind.inner) == pytest.approx(expected, rel=1e-12)


def test_temperatures_keep_their_zero_points_and_differences_do_not() -> None:
    assert convert(-40.0, "F", "C") == pytest.approx(-40.0)
    assert convert(212.0, "F", "degC") == pytest.approx(100.0)
    assert convert(100.0, "C", "F") == pytest.approx(212.0)
    assert convert(9.0, "F", "K") == pytest.approx(5.0)
    assert float(parse_quantity("-40", TEMPERATURE)) == pytest.approx(-40.0)
    assert float(parse_quantity("-9 F", TEMPERATURE_RISE)) == pytest.approx(-5.0)


FT, IN = 0.3048, 0.0254

GRAMMAR = [
    ("12 ft 6 in", LENGTH, 12.5 * FT), ("12'6\"", LENGTH, 12.5 * FT), ("12' 6\"", LENGTH, 12.5 * FT),
    ("12'-6\"", LENGTH, 12.5 * FT), ("12' - 6 1/2\"", LENGTH, 12.5 * FT + IN / 2), ("12′ 6″", LENGTH, 12.5 * FT),
    ("12’ 6”", LENGTH, 12.5 * FT), ("12' 6''", LENGTH, 12.5 * FT), ("12'6", LENGTH, 12.5 * FT),
    ("12ft6in", LENGTH, 12.5 * FT), ("12 ft-6 in", LENGTH, 12.5 * FT), ("12 ft. 6 in.", LENGTH, 12.5 * FT),
    ("12 feet 6 inches", LENGTH, 12.5 * FT), ("12 FT 6 IN", LENGTH, 12.5 * FT), ("-12 ft 6 in", LENGTH, -12.5 * FT),
    ("− 12 ft", LENGTH, -12 * FT), ("+12 ft", LENGTH, 12 * FT), ("12", LENGTH, 12 * FT), (".5 ft", LENGTH, 0.5 * FT),
    ("12.", LENGTH, 12 * FT), ("1e2 ft", LENGTH, 100 * FT), ("1,200 ft", LENGTH, 1200 * FT), ("12 ft", LENGTH, 12 * FT),
    ("3 yd 2 ft 1 in", LENGTH, 11 * FT + IN), ("1.2 m", LENGTH, 1.2), ("120 cm", LENGTH, 1.2), ("1 m 20 cm",
    LENGTH, 1.2),
    ("1 1/2 in", BORE, 1.5 * IN), ("1-1/2 in", BORE, 1.5 * IN), ("3/8 in", BORE, 0.375 * IN), ("3/8", BORE, 0.375 * IN),
    ("3/8\"", BORE, 0.375 * IN), ("½ in", BORE, 0.5 * IN), ("3½ in", BORE, 3.5 * IN), ("1⁄4 in", BORE, 0.25 * IN),
    ("9.5 mm", BORE, 0.0095), ("40 mils", BORE, 0.04 * IN),
    ("48 F", TEMPERATURE, 80 / 9), ("48 °F", TEMPERATURE, 80 / 9), ("48F", TEMPERATURE, 80 / 9),
    ("48 deg F", TEMPERATURE, 80 / 9), ("48 degrees f", TEMPERATURE, 80 / 9), ("-5 C", TEMPERATURE, -5.0),
    ("- 5 °C", TEMPERATURE, -5.0), ("0 C", TEMPERATURE, 0.0),
    ("0.08 1/ft2", DENSITY, 0.08 / FT**2), ("0.08/ft2", DENSITY, 0.08 / FT**2), ("0.08 per ft2", DENSITY, 0.08 / FT**2),
    ("0.08 per sq ft", DENSITY, 0.08 / FT**2), ("30 per hour", COUNT_RATE, 30 / 3600),
    ("5.5 gal/min", FLOW, 5.5 * 3.785411784 / 60), ("5.5 gpm", FLOW, 5.5 * 3.785411784 / 60),
    ("5.5 GPM", FLOW, 5.5 * 3.785411784 / 60), ("5.5 gal per min", FLOW, 5.5 * 3.785411784 / 60),
    ("5.5 gallons / minute", FLOW, 5.5 * 3.785411784 / 60), ("20 L/min", FLOW, 1 / 3), ("20 lpm", FLOW, 1 / 3),
    ("1,200 psi", PRESSURE, 1200 * 6894.757293168361), ("3,500 PSI", PRESSURE, 3500 * 6894.757293168361),
    ("80 bar", PRESSURE, 8e6), ("8 MPa", PRESSURE, 8e6),
    ("100 ft2", AREA, 100 * FT**2), ("100 sq ft", AREA, 100 * FT**2), ("100 square feet", AREA, 100 * FT**2),
    ("100 ft²", AREA, 100 * FT**2), ("100 sqft", AREA, 100 * FT**2), ("100 SF", AREA, 100 * FT**2), ("9 m²", AREA, 9.0),
    ("3 cu ft", VOLUME, 3 * 28.316846592), ("2 gal 1 qt", VOLUME, 2.25 * 3.785411784), ("2 m3", VOLUME, 2000.0),
    ("3 fl oz", SMALL_VOLUME, 3 * 0.0295735295625), ("3 fl. oz.", SMALL_VOLUME, 3 * 0.0295735295625),
    ("4 floz/gal", DOSE, 1 / 32), ("4 fl oz per gallon", DOSE, 1 / 32), ("4 mL/L", DOSE, 0.004),
    ("22 %", RATIO, 0.22), ("22%", RATIO, 0.22), ("22 percent", RATIO, 0.22), ("1/4 in/ft", RATIO, 1 / 48),
    ("1/4 in per ft", RATIO, 1 / 48), ("40 mph", SPEED, 17.8816), ("65 km/h", SPEED, 65 / 3.6), ("10 knots",
    SPEED, 18520 / 3600),
    ("2 h 30 min", HOURS, 9000.0), ("90 minutes", HOURS, 5400.0), ("6 weeks", DAYS, 42 * 86400.0),
    ("8 months", YEARS, 8 / 12 * 365.25 * 86400), ("7 years", YEARS, 7 * 365.25 * 86400), ("8°", ANGLE, 8.0),
    ("5 deg 30 arcmin", ANGLE, 5.5), ("5 lb 4 oz", MASS, 5.25 * 0.45359237),
]  # fmt: skip


@pytest.mark.parametrize(("typed", "kind", "inner"), GRAMMAR, ids=[f"{row[0]} {row[1].name}" for row in GRAMMAR])
def test_what_people_write_is_understood(typed: str, kind: QuantityKind, inner: float) -> None:
    """Inner values by hand from the exact factors of NIST SP 811, appendix B.8."""
    measure = parse_quantity(typed, kind)
    assert float(measure) == pytest.approx(inner, rel=1e-12, abs=1e-12)
    assert measure.typed == typed.strip()


@pytest.mark.parametrize(("typed", "kind", "code"), [
    ("", LENGTH, "not-a-quantity"), (" ", LENGTH, "not-a-quantity"), ("-", LENGTH, "not-a-quantity"),
    ("ft", LENGTH, "not-a-quantity"), ("nan", LENGTH, "not-a-quantity"), ("inf ft", LENGTH, "not-a-quantity"),
    (math.nan, LENGTH, "not-a-quantity"), (math.inf, LENGTH, "not-a-quantity"), ("--5 ft", LENGTH, "not-a-quantity"),
    ("+-5 ft", LENGTH, "not-a-quantity"), ("5 5 ft", LENGTH, "not-a-quantity"), ("12 ft 6", LENGTH, "not-a-quantity"),
    ("6 in 12 ft", LENGTH, "not-a-quantity"), ("12 ft 6 ft", LENGTH, "not-a-quantity"), ("1/0 in",
    BORE, "not-a-quantity"),
    ("1/2/3 in", BORE, "not-a-quantity"), ("12,5 ft", LENGTH, "not-a-quantity"), ("1,20 ft", LENGTH, "not-a-quantity"),
    ("1,2000 ft", LENGTH, "not-a-quantity"), ("12-6 ft", LENGTH, "not-a-quantity"), ("5 F 3 F",
    TEMPERATURE, "not-a-quantity"),
    ("9" * 400, LENGTH, "not-a-quantity"), ("1/" + "9" * 400, LENGTH, "not-a-quantity"), ("1e999 ft",
    LENGTH, "not-finite"),
    (10**400, LENGTH, "not-finite"), ("5 cubits", LENGTH, "unknown-unit"),
    ("5 ft//in", LENGTH, "unknown-unit"), ("5 ft^", LENGTH, "unknown-unit"), ("5 mPa", PRESSURE, "unknown-unit"),
    ("5 /", LENGTH, "unknown-unit"), ("5 ft12", LENGTH, "unknown-unit"), ("5 gal", LENGTH, "wrong-unit"),
    ("5 ft2", LENGTH, "wrong-unit"), ("5 $", LENGTH, "wrong-unit"), ("5 ft 3 gal", LENGTH, "wrong-unit"),
    ("3 oz", SMALL_VOLUME, "wrong-unit"), ("5 %", TEMPERATURE, "wrong-unit"), ("281 K", TEMPERATURE, "wrong-unit"),
    ("5 C", LENGTH, "wrong-unit"), ("٣ ft", LENGTH, "not-a-quantity"), ("5 \x00ft", LENGTH, "unknown-unit"),
])  # fmt: skip
def test_what_nobody_can_mean_is_refused(typed: Any, kind: QuantityKind, code: str) -> None:
    assert refused(typed, kind) == code


def test_an_integer_too_long_for_python_to_write_is_refused() -> None:
    assert refused(10**5000, LENGTH) == "not-finite"


def refused(typed: Any, kind: QuantityKind) -> str:
    """Return the code of the refusal, which must say what was expected and what to write."""
    with pytest.raises(InputError) as caught:
        parse_quantity(typed, kind)
    (problem,) = caught.value.problems
    assert problem.expected
    assert problem.fix
    assert len(str(problem)) < 400
    return problem.code


def test_a_decimal_comma_is_answered_with_the_decimal_point() -> None:
    with pytest.raises(InputError, match=r"write `12\.5` or `125`"):
        parse_quantity("12,5 m", LENGTH, "metric")


@given(st.text(max_size=40), st.sampled_from(KINDS), st.sampled_from(["us", "metric"]))
@example("1e308 km 1e308 m", LENGTH, "us")
@example("1" + "/" * 30, LENGTH, "us")
@example("1 km9/mm9/mm9/mm9/mm9/mm9/mm9/mm9/mm9", LENGTH, "us")
def test_any_text_is_a_finite_measure_or_refused(text: str, kind: QuantityKind, system: str) -> None:
    try:
        measure = parse_quantity(text, kind, system)
    except InputError:
        return
    assert math.isfinite(measure)


words = st.sampled_from(["ft", "in", "'", '"', "1/2", "-", " ", "6", "12", ".", ",", "/", "per", "sq", "min", "F", "°"])


@given(st.lists(words, max_size=9).map("".join), st.sampled_from(KINDS))
def test_any_text_of_known_words_is_a_finite_measure_or_refused(text: str, kind: QuantityKind) -> None:
    try:
        measure = parse_quantity(text, kind)
    except InputError:
        return
    assert math.isfinite(measure)


DOORS = [(kind, unit, system) for kind in KINDS for system, unit in (("us", kind.us), ("metric", kind.metric))]


@given(st.sampled_from(DOORS), st.floats(1e-6, 1e12), st.booleans())
def test_a_bare_number_takes_the_systems_unit(door: tuple[QuantityKind, str, str], number: float, below: bool) -> None:
    kind, unit, system = door
    number = -number if below else number
    bare, spelled = parse_quantity(number, kind, system), parse_quantity(f"{number!r} {unit}", kind)
    assert float(bare) == float(spelled)
    assert in_unit(bare, kind, system) == pytest.approx(number, rel=1e-9, abs=1e-9)


@given(st.sampled_from(DOORS), st.floats(1e-4, 1e9), st.booleans())
@example((AREA, "ft2", "us"), 1234567.0, False)
def test_what_is_shown_is_read_back(door: tuple[QuantityKind, str, str], number: float, below: bool) -> None:
    """Three figures are shown, a length in ft to half an inch; what is shown once is shown the same again."""
    kind, unit, system = door
    value = convert(-number if below else number, unit, kind.inner)
    shown = show(value, kind, system)
    again = parse_quantity(shown, kind, system)
    if kind is LENGTH and system == "us":
        assert float(again) == pytest.approx(value, abs=0.0254 / 4 + 1e-6, rel=1e-9)
    else:
        assert in_unit(again, kind, system) == pytest.approx(in_unit(value, kind, system), rel=0.0051)
    assert show(again, kind, system) == shown


@given(st.floats(-300, 300), st.sampled_from([1, 2, 4, 8, 16]))
def test_feet_and_inches_are_within_half_a_step(metres: float, fraction: int) -> None:
    shown = feet_and_inches(metres, fraction)
    assert abs(float(parse_quantity(shown, LENGTH)) - metres) <= 0.0254 / fraction / 2 + 1e-9
    assert " 12 in" not in shown


@pytest.mark.parametrize(("number", "digits", "shown"), [
    (12345.6, 3, "12,300"), (0.07225, 2, "0.072"), (9.996, 3, "10"), (999.6, 3, "1,000"), (-0.5, 3, "-0.5"),
    (0.0, 3, "0"),
    (1.005e-5, 2, "0.00001"), (1e14, 3, "100,000,000,000,000"), (1e20, 3, "1.00e+20"), (1e-30, 2, "1.0e-30"),
    (math.inf, 3, "inf"),
])  # fmt: skip
def test_significant_figures(number: float, digits: int, shown: str) -> None:
    assert significant(number, digits) == shown


@pytest.mark.parametrize("value", [1e300, -1e300, math.inf, -math.inf, math.nan, 5e-324])
@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_any_float_can_be_shown_in_short(value: float, kind: QuantityKind) -> None:
    assert len(show(value, kind)) < 40


def test_a_measure_is_a_float_that_keeps_its_text_through_copies_and_pickles() -> None:
    measure = parse_quantity("12 ft 6 in", LENGTH)
    for again in (copy.copy(measure), copy.deepcopy(measure), pickle.loads(pickle.dumps(measure))):
        assert isinstance(again, Measure)
        assert (float(again), again.typed) == (float(measure), "12 ft 6 in")
    assert measure + 1.0 == pytest.approx(4.81)
    assert {measure: "a"}[Measure(float(measure), "other")] == "a"


@pytest.mark.parametrize(
    ("kind", "words"), [(LENGTH, "a length"), (AREA, "an area"), (YEARS, "years"), (DENSITY, "pieces an area")]
)
def test_names_with_their_article(kind: QuantityKind, words: str) -> None:
    assert kind.a_name == words
