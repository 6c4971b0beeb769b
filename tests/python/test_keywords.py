"""Wrong arguments: the error names the one that was meant, and nothing else of a function changes."""

import inspect
import pickle
import re
from types import ModuleType
from typing import Any

import ferment
import numpy as np
import pytest
from ferment import _core, _keywords, _show, batch, fermentation, instrument, liquid, mash, proofing, still, strength

MODULES: list[ModuleType] = [
    ferment,
    *(value for name in ferment.__all__ if inspect.ismodule(value := getattr(ferment, name))),
]
FUNCTIONS = {
    f"{module.__name__}.{name}": value
    for module in MODULES
    for name in module.__all__
    if inspect.isfunction(value := getattr(module, name))
}
CLASSES = {
    value.__name__: value
    for module in MODULES
    for name in module.__all__
    if isinstance(value := getattr(module, name), type) and not issubclass(value, BaseException)
}
METHODS = {
    f"{kind.__name__}.{name}": getattr(kind, name)
    for kind in CLASSES.values()
    for name, value in vars(kind).items()
    if not name.startswith("_") and (inspect.isfunction(value) or isinstance(value, classmethod | staticmethod))
}
BILL = mash.Bill([("flaked oats", 60.0)])


def keywords(function: Any) -> list[str]:
    parameters = inspect.signature(function).parameters.values()
    if any(one.kind is one.VAR_KEYWORD for one in parameters):
        return []  # takes any, and says itself which it knows
    kinds = (inspect.Parameter.POSITIONAL_OR_KEYWORD, inspect.Parameter.KEYWORD_ONLY)
    return [one.name for one in parameters if one.kind in kinds and one.name != "self"]


CALLS = {
    called: (value, names)
    for called, value in {**FUNCTIONS, **METHODS, **CLASSES}.items()
    if (names := keywords(value))
}


def message(call: Any, *args: Any, **kwargs: Any) -> str:
    with pytest.raises(TypeError) as caught:
        call(*args, **kwargs)
    return str(caught.value)


@pytest.mark.parametrize("called", CALLS)
def test_every_call_names_what_was_meant(called: str) -> None:
    call, names = CALLS[called]
    name = max(names, key=len)
    wrong = name[:-2] + name[-1] if len(name) > 3 else name + "x"
    owner = [None] if called in METHODS and "self" in inspect.signature(call).parameters else []
    short = called.removeprefix("ferment.").rpartition(".")[2] if called in FUNCTIONS else called
    found = message(call, *owner, **{wrong: None})
    assert re.match(
        rf"{re.escape(short)}\(\) got an unexpected keyword argument '{wrong}'; (did you mean|this quantity is given as) '",
        found,
    ), found
    if len(name) > 5:
        assert f"'{name}'" in found or any(f"'{one}'" in found for one in names if one[:4] == name[:4]), found


def test_all_are_tried() -> None:
    assert len(CALLS) >= 180
    assert not [name for name, value in FUNCTIONS.items() if keywords(value) and not hasattr(value, "__wrapped__")]


@pytest.mark.parametrize(
    ("call", "given", "expected"),
    [
        (mash.potential, {"watr_l": 1.0}, "; did you mean 'water_l'?"),
        (mash.potential, {"water_lb": 1.0}, "; this quantity is given as 'water_l' or 'water_kg'"),
        (mash.potential, {"water": 1.0}, "; did you mean 'water_l' or 'water_kg'?"),
        (proofing.dilute, {"temperature": 1.0}, "; did you mean 'temperature_c'?"),
        (proofing.dilute, {"temperatureC": 1.0}, "; did you mean 'temperature_c'?"),
        (proofing.dilute, {"temp_f": 1.0}, "; this quantity is given as 'temperature_c'"),
        (proofing.dilute, {"volume_liters": 1.0}, "; this quantity is given as 'volume_l'"),
        (proofing.dilute, {"volume_ml": 1.0}, "; this quantity is given as 'volume_l'"),
        (proofing.dilute, {"water_temp": 1.0}, "; did you mean 'water_temperature_c'?"),
        (proofing.dilute, {"strength": 1.0}, "; did you mean 'abv'?"),
        (proofing.dilute, {"ABV": 1.0}, "; did you mean 'abv'?"),
        (proofing.dilute, {"banana": 1.0}, ""),
        (proofing.add_water, {"water_l": 1.0}, "; this quantity is given as 'water_kg'"),
        (still.Still, {"boiler_gallons": 1.0}, "; this quantity is given as 'boiler_l'"),
        (strength.gravity_balance, {"og": 1.0}, "; did you mean 'original_gravity'?"),
        (liquid.plato_from_sg, {"gravity": 1.0}, "; did you mean 'sg'?"),
        (mash.Grain, {"fiber": 1.0}, "; did you mean 'fibre'?"),
        (liquid.azeotrope, {"pressure_psi": 1.0}, "; this quantity is given as 'pressure_kpa'"),
        (fermentation.Inoculum, {"yeast_g": 1.0}, "; this quantity is given as 'yeast_kg'"),
        (fermentation.Ambient.day_night, {"swing": 1.0}, "; did you mean 'swing_c'?"),
    ],
)
def test_what_people_write(call: Any, given: dict[str, float], expected: str) -> None:
    assert message(call, **given).endswith(f"got an unexpected keyword argument '{next(iter(given))}'{expected}")


def test_whole_messages() -> None:
    assert message(mash.potential, BILL, watr_l=1.0) == (
        "potential() got an unexpected keyword argument 'watr_l'; did you mean 'water_l'?"
    )
    assert message(instrument.Hydrometer("sg").correct, 1.0, temp=20.0) == (
        "Hydrometer.correct() got an unexpected keyword argument 'temp'; did you mean 'temperature_c'?"
    )
    assert message(ferment.Measured, valu=1.0) == (
        "Measured() got an unexpected keyword argument 'valu'; did you mean 'value'?"
    )


def test_a_plan_names_it_as_well() -> None:
    with pytest.raises(ferment.InputError, match=r"^boiler is not known; did you mean 'boiler_l'\?$"):
        batch.plan(boiler=3.0)


def test_other_errors_pass_untouched() -> None:
    assert message(mash.potential) == "potential() missing 1 required positional argument: 'bill'"
    assert "takes" in message(proofing.dilute, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0)
    assert message(proofing.blend, None) == "'NoneType' object is not iterable"
    with pytest.raises(ferment.RangeError):
        proofing.dilute(abv=300.0, volume_l=1.0, target_abv=40.0)

    def inner(**_: Any) -> None:
        raise TypeError("inner() got an unexpected keyword argument 'watr'")

    def outer(water: float = 0.0, **more: Any) -> None:
        inner(water=water, **more)

    assert message(_keywords.explained(outer, "outer")) == "inner() got an unexpected keyword argument 'watr'"

    def calls_wrongly(water: float = 0.0) -> Any:
        return (lambda extract: extract)(ater=water)  # type: ignore[call-arg]

    found = message(_keywords.explained(calls_wrongly, "calls_wrongly"), water=1.0)
    assert "'ater'" in found
    assert "calls_wrongly() got" not in found


@pytest.mark.parametrize("called", FUNCTIONS)
def test_functions_stay_what_they_are(called: str) -> None:
    function = FUNCTIONS[called]
    plain = inspect.unwrap(function)
    assert pickle.loads(pickle.dumps(function)) is function
    assert inspect.signature(function) == inspect.signature(plain)
    assert function.__doc__ == plain.__doc__
    assert function.__qualname__ == plain.__qualname__ == plain.__name__


@pytest.mark.parametrize("kind", CLASSES.values(), ids=CLASSES)
def test_classes_stay_what_they_are(kind: type) -> None:
    assert pickle.loads(pickle.dumps(kind)) is kind
    assert inspect.signature(kind) == inspect.signature(inspect.unwrap(kind.__init__)).replace(
        parameters=list(inspect.signature(inspect.unwrap(kind.__init__)).parameters.values())[1:]
    )


def test_compiled_functions_are_not_wrapped() -> None:
    for name in liquid.__all__:
        if (compiled := getattr(_core, name, None)) is not None:
            assert getattr(liquid, name) is compiled
    assert liquid.spirit_density is _core.spirit_density


SPIRIT = ("spirit_density", ["abw", "temperature_c"])
BOILING = ("boiling_point", ["abw", "pressure_kpa", "extract"])
NUMBER = "must be a number or an array of numbers, not"


@pytest.mark.parametrize(
    ("function", "args", "kwargs", "expected"),
    [
        (SPIRIT, ("40", 20.0), {}, f"argument 'abw' {NUMBER} 'str'"),
        (SPIRIT, (40.0,), {"temperature_c": "20"}, f"argument 'temperature_c' {NUMBER} 'str'"),
        (SPIRIT, ([40.0, "x"], 20.0), {}, f"argument 'abw' {NUMBER} 'list' that holds 'str'"),
        (SPIRIT, ([40.0, None], 20.0), {}, f"argument 'abw' {NUMBER} 'list' that holds 'NoneType'"),
        (SPIRIT, (None, 20.0), {}, f"argument 'abw' {NUMBER} 'NoneType'"),
        (SPIRIT, (1j, 20.0), {}, f"argument 'abw' {NUMBER} 'complex'"),
        (SPIRIT, ({"abw": 1.0}, 20.0), {}, f"argument 'abw' {NUMBER} 'dict'"),
        (SPIRIT, ([[1.0], [1.0, 2.0]], 20.0), {}, f"argument 'abw' {NUMBER} 'list' with rows of different lengths"),
        (SPIRIT, (np.array(["x"]), 20.0), {}, f"argument 'abw' {NUMBER} 'ndarray' that holds 'str'"),
        (SPIRIT, (), {}, "missing 2 required arguments: 'abw' and 'temperature_c'"),
        (SPIRIT, (40.0,), {}, "missing 1 required argument: 'temperature_c'"),
        (SPIRIT, (40.0,), {"temp": 20.0}, "got an unexpected keyword argument 'temp'; did you mean 'temperature_c'?"),
        (
            SPIRIT,
            (40.0,),
            {"temperature_f": 68.0},
            "got an unexpected keyword argument 'temperature_f'; this quantity is given as 'temperature_c'",
        ),
        (
            SPIRIT,
            (40.0, 20.0),
            {"out_of_rang": "nan"},
            "got an unexpected keyword argument 'out_of_rang'; did you mean 'out_of_range'?",
        ),
        (
            SPIRIT,
            (40.0, 20.0),
            {"out_of_range": "clip"},
            "argument 'out_of_range' must be 'raise' or 'nan', not 'clip'",
        ),
        (SPIRIT, (40.0, 20.0), {"out": [1.0]}, "argument 'out' must be an array of float64, not 'list'"),
        (
            SPIRIT,
            (40.0, 20.0),
            {"out": np.zeros(1, int)},
            "argument 'out' must be an array of float64, not an array of int64",
        ),
        (SPIRIT, (40.0, 20.0, 1.0), {}, "takes 2 positional arguments but 3 were given: abw, temperature_c"),
        (SPIRIT, (40.0, 20.0), {"abw": 1.0}, "got multiple values for argument 'abw'"),
        (BOILING, (), {}, "missing 1 required argument: 'abw'"),
        (BOILING, (5.0,), {"extract": "2"}, f"argument 'extract' {NUMBER} 'str'"),
        (SPIRIT, (40.0, 20.0), {}, "cannot compute with these arguments (abw: float, temperature_c: float)"),
    ],
)
def test_compiled_calls_are_explained(
    function: tuple[str, list[str]], args: tuple[Any, ...], kwargs: dict[str, Any], expected: str
) -> None:
    name, parameters = function
    assert _keywords.explain(name, parameters, args, kwargs) == f"{name}() {expected}"
    with_elementwise = [*parameters, "out_of_range", "out"]
    assert _keywords.explain(name, with_elementwise, args, kwargs) == f"{name}() {expected}"


def test_defaults_may_be_said_with_the_names() -> None:
    assert _keywords.explain("own", ["abw", "extract=0"], (), {}) == "own() missing 1 required argument: 'abw'"
    assert _keywords.explain("own", ["abw", "extract=0"], ("a",), {}).startswith("own() argument 'abw' must be")


def test_the_function_itself_shows_what_is_allowed() -> None:
    # Numbers of the uncertainties package, arrays, truth values and integers are numbers.
    uncertainties = pytest.importorskip("uncertainties")
    some = uncertainties.ufloat(1.0, 0.1)
    for value in (1, True, np.float32(1.0), [1.0], [[1, 2]], some, [some, 1.0], np.array([some])):
        assert "cannot compute" in _keywords.explain("spirit_density", ["abw"], (value,), {})


DOCUMENTED = {**FUNCTIONS, **CLASSES, **METHODS}
#: Made by the package itself from what the compiled part gives, or for it.
INTERNAL = ("of", "values")
#: Names that say all there is to say, and texts without a unit.
PLAIN = {
    "name",
    "names",
    "label",
    "place",
    "indent",
    "basis",
    "source",
    "path",
    "text",
    "results",
    "changes",
    "coverage",
}
UNIT = re.compile(r"\[[^\]]+\]|[Gg]ravity|\bSG\b|\bsg\b")


@pytest.mark.parametrize("called", DOCUMENTED)
def test_help_says_what_parameters_and_units(called: str) -> None:
    value = DOCUMENTED[called]
    text = inspect.getdoc(value) or ""
    assert text.strip(), "no text"
    first = text.partition("\n\n")[0].replace("\n", " ")
    assert first[0].isupper() or first[0] in "`0123456789"
    assert first.endswith((".", "::", ":", '"')), first
    if called.rpartition(".")[2] in INTERNAL or called in CLASSES:
        return
    names = [name for name in inspect.signature(value).parameters if name not in ("self", "cls")]
    if len(names) > 1:
        untold = [name for name in names if not re.search(rf"\b{name}\b", text)]
        assert not untold, untold
    numbers = [name for name in names if _show.without_unit(name)[1] or name in ("abv", "abw", "extract")]
    if numbers:
        assert UNIT.search(text), numbers
