"""Wrong input gives one clear line that names the quantity, the value, its unit and what is allowed."""

from collections.abc import Callable

import ferment
import pytest
from ferment import InputError, RangeError, fermentation, instrument, liquid, mash, proofing, strength

BILL = mash.Bill([("rolled oats", 5.0)])
POTENTIAL = mash.potential(BILL, water_l=20.0)

# The call, the error, and its whole text up to the source in brackets.
WRONG: list[tuple[Callable[[], object], type[ferment.Error], str]] = [
    (lambda: liquid.water_density(101.0), RangeError, "temperature 101 degC is outside 0 to 100 degC"),
    (lambda: liquid.water_density(-0.5), RangeError, "temperature -0.5 degC is outside 0 to 100 degC"),
    (lambda: liquid.water_density(float("inf")), RangeError, "temperature inf degC is outside 0 to 100 degC"),
    (
        lambda: liquid.water_density([20.0, 120.0, 130.0]),
        RangeError,
        "element [1]: temperature 120 degC is outside 0 to 100 degC",
    ),
    (
        lambda: liquid.water_density([[20.0, 30.0], [40.0, -5.0]]),
        RangeError,
        "element [1, 1]: temperature -5 degC is outside 0 to 100 degC",
    ),
    (
        lambda: liquid.water_density([101.0], out_of_range="skip"),
        InputError,
        'out_of_range "skip" must be "raise" or "nan"',
    ),
    (lambda: liquid.sucrose_density(71.0, 20.0), RangeError, "extract 71 % mass is outside 0 to 70 % mass"),
    (lambda: liquid.sucrose_density(10.0, 81.0), RangeError, "temperature 81 degC is outside 0 to 80 degC"),
    (lambda: liquid.sucrose_density(-1.0, 20.0), RangeError, "extract -1 % mass is outside 0 to 70 % mass"),
    (
        lambda: liquid.extract_from_density(900.0, 20.0),
        RangeError,
        "density 900 kg/m3 is outside 998.2031227 to 1347.477506 kg/m3",
    ),
    (
        lambda: liquid.extract_from_density(1500.0, 20.0),
        RangeError,
        "density 1500 kg/m3 is outside 998.2031227 to 1347.477506 kg/m3",
    ),
    (lambda: liquid.glucose_density(61.0), RangeError, "extract 61 % mass is outside 0 to 60 % mass"),
    (
        lambda: liquid.glucose_from_density(990.0),
        RangeError,
        "density 990 kg/m3 is outside 998.2031227 to 1279.281109 kg/m3",
    ),
    (lambda: liquid.extract_per_litre(80.0, 20.0), RangeError, "extract 80 % mass is outside 0 to 70 % mass"),
    (
        lambda: liquid.extract_from_per_litre(-1.0, 20.0),
        RangeError,
        "extract per litre -1 g/L is outside 0 to 943.2342541 g/L",
    ),
    (lambda: liquid.spirit_density(101.0, 20.0), RangeError, "abw 101 % mass is outside 0 to 100 % mass"),
    (lambda: liquid.spirit_density(50.0, 41.0), RangeError, "temperature 41 degC is outside -20 to 40 degC"),
    (lambda: liquid.spirit_density(5.0, -15.0), RangeError, "abw 5 % mass is outside 24.59464748 to 100 % mass"),
    (
        lambda: liquid.abw_from_density(700.0, 20.0),
        RangeError,
        "density 700 kg/m3 is outside 789.2391233 to 998.20123 kg/m3",
    ),
    (
        lambda: liquid.abv_from_density(1100.0, 20.0),
        RangeError,
        "density 1100 kg/m3 is outside 789.2391233 to 998.20123 kg/m3",
    ),
    (lambda: liquid.abv_from_abw(-1.0), RangeError, "abw -1 % mass is outside 0 to 100 % mass"),
    (lambda: liquid.abw_from_abv(100.5), RangeError, "abv 100.5 % vol is outside 0 to 100 % vol"),
    (lambda: liquid.us_proof_from_abv(101.0), RangeError, "abv 101 % vol is outside 0 to 100 % vol"),
    (lambda: liquid.abv_from_us_proof(201.0), RangeError, "us_proof 201 proof is outside 0 to 200 proof"),
    (lambda: liquid.abw_from_us_proof(-1.0), RangeError, "us_proof -1 proof is outside 0 to 200 proof"),
    (lambda: liquid.us_proof_from_abw(101.0), RangeError, "abw 101 % mass is outside 0 to 100 % mass"),
    (lambda: liquid.wash_density(10.0, 5.0, 45.0), RangeError, "temperature 45 degC is outside 0 to 40 degC"),
    (lambda: liquid.wash_density(10.0, 80.0, 20.0), RangeError, "extract 80 % mass is outside 0 to 70 % mass"),
    (lambda: liquid.wash_abv(-2.0, 3.0), RangeError, "abw -2 % mass is outside 0 to 100 % mass"),
    (lambda: liquid.wash_gravity(8.0, -1.0), RangeError, "extract -1 % mass is outside 0 to 70 % mass"),
    (
        lambda: liquid.wash_extract(700.0, 8.0, 20.0),
        RangeError,
        "density 700 kg/m3 is outside 984.7325478 to 1290.195306 kg/m3",
    ),
    (
        lambda: liquid.wash_abw_from_density(700.0, 3.0, 20.0),
        RangeError,
        "density 700 kg/m3 is outside 805.4119692 to 1009.881341 kg/m3",
    ),
    (lambda: liquid.plato_from_sg(0.998), RangeError, "gravity 0.998 is outside 1 to 1.349903116"),
    (lambda: liquid.plato_from_sg(1.5), RangeError, "gravity 1.5 is outside 1 to 1.349903116"),
    (lambda: liquid.plato_from_sg([1.05, 0.99]), RangeError, "element [1]: gravity 0.99 is outside 1 to 1.349903116"),
    (
        lambda: liquid.plato_from_sg(1.05, "20/21"),
        InputError,
        'reference "20/21" is not known; allowed are 20/20, 15/15, 60/60F, 20/4',
    ),
    (lambda: liquid.sg_from_plato(71.0), RangeError, "extract 71 % mass is outside 0 to 70 % mass"),
    (
        lambda: liquid.convert_sg(1.05, "20/20", "x"),
        InputError,
        'reference "x" is not known; allowed are 20/20, 15/15, 60/60F, 20/4',
    ),
    (
        lambda: instrument.Hydrometer("brix"),
        InputError,
        'hydrometer scale "brix" is not known; allowed are sg, plato, density',
    ),
    (
        lambda: instrument.Hydrometer(calibration_c=60.0),
        RangeError,
        "calibration temperature 60 degC is outside 0 to 40 degC",
    ),
    (
        lambda: instrument.Hydrometer(glass_expansion=0.1),
        RangeError,
        "glass expansion 0.1 1/K is outside 0 to 0.001 1/K",
    ),
    (
        lambda: instrument.Hydrometer(meniscus=float("nan")),
        InputError,
        "hydrometer: calibration_c, glass_expansion and meniscus must be numbers",
    ),
    (lambda: instrument.Hydrometer().correct(1.05, 90.0), RangeError, "temperature 90 degC is outside 0 to 80 degC"),
    (
        lambda: instrument.Hydrometer().correct(1.05, 20.0, "beer"),
        InputError,
        'liquid "beer" is not known; allowed are wort, spirit, or Wash(abv=...) or Wash(extract=...)',
    ),
    (
        lambda: instrument.Hydrometer().correct(1.01, 45.0, instrument.Wash(abv=8.0)),
        RangeError,
        "temperature 45 degC is outside 0 to 40 degC",
    ),
    (
        lambda: instrument.Hydrometer().correct(1.01, 20.0, instrument.Wash(abv=108.0)),
        RangeError,
        "abv 108 % vol is outside 0 to 100 % vol",
    ),
    (
        lambda: instrument.Hydrometer().correct(1.01, 20.0, instrument.Wash(extract=-1.0)),
        RangeError,
        "extract -1 % mass is outside 0 to 70 % mass",
    ),
    (lambda: instrument.Wash(), InputError, "Wash: give exactly one of abv [% vol] and extract [% mass]"),
    (
        lambda: instrument.Wash(abv=5.0, extract=2.0),
        InputError,
        "Wash: give exactly one of abv [% vol] and extract [% mass]",
    ),
    (
        lambda: instrument.Alcoholometer("proof"),
        InputError,
        'alcoholometer scale "proof" is not known; allowed are abv, us_proof',
    ),
    (
        lambda: instrument.Alcoholometer(glass_expansion=-1.0),
        RangeError,
        "glass expansion -1 1/K is outside 0 to 0.001 1/K",
    ),
    (
        lambda: instrument.Alcoholometer(glass_expansion=float("inf")),
        InputError,
        "alcoholometer: glass_expansion must be a number",
    ),
    (
        lambda: instrument.Alcoholometer().correct(120.0, 20.0),
        RangeError,
        "alcoholometer reading 120 % vol is outside 0 to 100 % vol",
    ),
    (
        lambda: instrument.Alcoholometer().correct(40.0, 50.0),
        RangeError,
        "temperature 50 degC is outside -20 to 40 degC",
    ),
    (lambda: strength.abv_from_gravity(1.2, 1.01), RangeError, "original gravity 1.2 is outside 1 to 1.13"),
    (
        lambda: strength.abv_from_gravity(1.05, 1.06),
        InputError,
        "final gravity 1.06 is above the original gravity 1.05; fermentation can only lower it",
    ),
    (lambda: strength.abv_from_gravity(1.05, 0.97), RangeError, "final gravity 0.97 is outside 0.98 to 1.06"),
    (lambda: strength.abv_from_gravity(1.05, 0.985), RangeError, "final gravity 0.985 is outside 0.9889546943 to 1.05"),
    (
        lambda: strength.abv_from_gravity(1.05, 1.01, "guess"),
        InputError,
        'gravity method "guess" is not known; allowed are density_balance, balling, cutaia_a, cutaia_q, doemens_a, hall, hmrc_226',
    ),
    (
        lambda: strength.abv_from_gravity(1.05, 1.01, "hall", "20/21"),
        InputError,
        'reference "20/21" is not known; allowed are 20/20, 15/15, 60/60F, 20/4',
    ),
    (
        lambda: strength.abv_from_gravity(1.05, 1.06, "hmrc_226"),
        InputError,
        "final gravity 1.06 is above the original gravity 1.05; fermentation can only lower it",
    ),
    (
        lambda: strength.gravity_balance(1.05, 1.01, "mine"),
        InputError,
        'fermentation yield "mine" is not known; allowed are bringhurst_1996, balling_1865',
    ),
    (
        lambda: strength.original_gravity_from_abv(50.0, 1.0),
        RangeError,
        "abv 50 % vol is outside 0 to 21.26110462 % vol",
    ),
    (
        lambda: strength.original_gravity_from_abv(-1.0, 1.0),
        RangeError,
        "abv -1 % vol is outside 0 to 21.26110462 % vol",
    ),
    (lambda: strength.least_final_gravity(1.2), RangeError, "original gravity 1.2 is outside 1 to 1.13"),
    (lambda: strength.apparent_extract(0.5), RangeError, "gravity 0.5 is outside 0.9773271239 to 1.349903116"),
    (
        lambda: strength.real_extract(1.05, 1.06),
        InputError,
        "final gravity 1.06 is above the original gravity 1.05; fermentation can only lower it",
    ),
    (lambda: strength.dry_extract(700.0, 10.0), RangeError, "density 700 kg/m3 is outside 780 to 1350 kg/m3"),
    (lambda: strength.duty_abv(-1.0), RangeError, "abv -1 % vol is outside 0 to 100 % vol"),
    (lambda: strength.cutaia_a(30.0, 2.0), RangeError, "original extract 30 % mass is outside 9.44 to 18.03 % mass"),
    (lambda: strength.cutaia_b(12.0, 20.0), RangeError, "real extract 20 % mass is outside 1.99 to 9.28 % mass"),
    (
        lambda: strength.doemens_c(12.0, 5.0, 20.0),
        RangeError,
        "apparent extract 20 % mass is outside -0.42 to 7.86 % mass",
    ),
    (lambda: strength.abv_by_convention(8.0, 1.9), RangeError, "gravity 1.9 is outside 0.79 to 1.13"),
    (lambda: strength.tabarie_sg(0.5, 1.0), RangeError, "gravity of the alcohol 0.5 is outside 0.8 to 1.13"),
    (
        lambda: strength.oiv_alcohol_free_density(100.0, 10.0),
        RangeError,
        "density 100 kg/m3 is outside 780 to 1350 kg/m3",
    ),
    (lambda: strength.balling_original_extract(30.0, 5.0), RangeError, "abw 30 % mass is outside 0 to 20 % mass"),
    (
        lambda: strength.bringhurst_attenuation(12.0, 15.0),
        InputError,
        "apparent extract 15 % mass is above the original extract 12 % mass; fermentation can only lower it",
    ),
    (lambda: mash.Bill([]), InputError, "the bill holds no grain; add at least one"),
    (lambda: mash.Bill([("rolled oats", -5.0)]), RangeError, "mass of flaked oats -5 kg must be more than 0 kg"),
    (lambda: mash.Bill([("rolled oats", 0.0)]), RangeError, "mass of flaked oats 0 kg must be more than 0 kg"),
    (
        lambda: mash.Bill([("rolled oats", float("nan"))]),
        InputError,
        "mass of flaked oats is not a number; it must be more than 0 kg",
    ),
    (lambda: mash.potential(BILL), InputError, "potential: give exactly one of water_l [L] and water_kg [kg]"),
    (
        lambda: mash.potential(BILL, water_l=5.0, water_kg=5.0),
        InputError,
        "potential: give exactly one of water_l [L] and water_kg [kg]",
    ),
    (lambda: mash.potential(BILL, water_kg=-5.0), RangeError, "mass of water -5 kg must be zero or more"),
    (
        lambda: mash.potential(BILL, water_kg=0.0),
        RangeError,
        "extract of the equivalent wort 94.92038866 % is outside 0 to 70 %",
    ),
    (
        lambda: mash.potential(BILL, water_kg=0.5),
        RangeError,
        "extract of the equivalent wort 83.67069815 % is outside 0 to 70 %",
    ),
    (
        lambda: mash.potential(BILL, water_l=5.0, water_temperature_c=120.0),
        RangeError,
        "temperature 120 degC is outside 0 to 100 degC",
    ),
    (
        lambda: mash.potential(BILL, water_l=5.0, assumptions=mash.Assumptions(conversion=120.0)),
        RangeError,
        "conversion 120 % is outside 0 to 100 %",
    ),
    (
        lambda: mash.potential(BILL, water_l=5.0, assumptions=mash.Assumptions(fermentation_efficiency=-1.0)),
        RangeError,
        "fermentation efficiency -1 % is outside 0 to 100 %",
    ),
    (
        lambda: mash.water_balance(POTENTIAL, absorption=11.0),
        RangeError,
        "absorption 11 kg per kg of grist is outside 0 to 10 kg per kg of grist",
    ),
    (
        lambda: mash.water_balance(POTENTIAL, absorption=9.0),
        RangeError,
        "water added 19.96413093 kg must be more than 44.81365196 kg, which the spent grain would keep",
    ),
    (
        lambda: mash.water_balance(POTENTIAL, head_space=100.0),
        RangeError,
        "head-space share 100 % must be 0 % or more and below 100 %",
    ),
    (
        lambda: mash.Grain("lot", "flakes", moisture=110.0, starch=60.0, sugars=1.0),
        RangeError,
        "moisture of lot 110 % is outside 0 to 100 %",
    ),
    (
        lambda: mash.Grain("lot", "flakes", moisture=10.0, starch=80.0, sugars=30.0),
        RangeError,
        "moisture, starch and sugars of lot together 120 % is outside 0 to 100 %",
    ),
    (lambda: mash.Grain("", "flakes", moisture=10.0, starch=80.0, sugars=3.0), InputError, "a grain needs a name"),
    (
        lambda: mash.grain("rolled oats").with_analysis(starsh=60.0),
        InputError,
        'part "starsh" of flaked oats is not known; allowed are moisture, starch, sugars, protein, fat, fibre, ash',
    ),
    (
        lambda: mash.grain("rolled oats").with_analysis(starch=120.0),
        RangeError,
        "starch of flaked oats 120 % is outside 0 to 100 %",
    ),
    (
        lambda: mash.grain("rolled oats").with_analysis("wet", starch=60.0),
        InputError,
        'basis "wet" is not known; allowed are as_is, dry',
    ),
    (
        lambda: mash.grain("rolled oats").with_analysis(starch=(60.0, -1.0)),
        RangeError,
        "standard uncertainty of starch of flaked oats -1 % is outside 0 to 100 %",
    ),
    (lambda: mash.litre_degrees_of_extract(0.0), RangeError, "extract 0 % mass is outside 1e-06 to 70 % mass"),
    (lambda: mash.litre_degrees_of_extract(71.0), RangeError, "extract 71 % mass is outside 1e-06 to 70 % mass"),
    (lambda: fermentation.read_wash(POTENTIAL, 2.0), RangeError, "gravity 2 SG 20/20 is outside 0.7 to 1.5 SG 20/20"),
    (
        lambda: fermentation.read_wash(POTENTIAL, 1.0, -0.001),
        InputError,
        "standard uncertainty -0.001 of reading must be a finite number, zero or more",
    ),
    (
        lambda: proofing.dilute(40.0, 10.0, 60.0),
        RangeError,
        "target strength 60 % vol must be above 0 and at most that of the spirit, 40 % vol: water cannot strengthen a spirit",
    ),
    (lambda: proofing.dilute(140.0, 10.0, 60.0), RangeError, "abv 140 % vol is outside 0 to 100 % vol"),
    (lambda: proofing.dilute(60.0, -10.0, 40.0), RangeError, "volume -10 L must be a number above 0 L"),
    (lambda: proofing.dilute(60.0, 0.0, 40.0), RangeError, "volume 0 L must be a number above 0 L"),
    (
        lambda: proofing.dilute(60.0, 10.0, 0.0),
        RangeError,
        "target strength 0 % vol must be above 0 and at most that of the spirit, 60 % vol: water cannot strengthen a spirit",
    ),
    (lambda: proofing.dilute(60.0, 10.0, 40.0, 50.0), RangeError, "temperature 50 degC is outside -20 to 40 degC"),
    (
        lambda: proofing.dilute(60.0, 10.0, 40.0, 20.0, 50.0),
        RangeError,
        "water temperature 50 degC is outside 0 to 40 degC",
    ),
    (lambda: proofing.dilute(60.0, 10.0, 40.0, -35.0), RangeError, "temperature -35 degC is outside -20 to 40 degC"),
    (
        lambda: proofing.dilute(0.0, 10.0, 40.0),
        RangeError,
        "target strength 40 % vol must be above 0 and at most that of the spirit, 0 % vol: water cannot strengthen a spirit",
    ),
    (lambda: proofing.add_water(60.0, 10.0, -1.0), RangeError, "water -1 kg must be a number of 0 kg or more"),
    (lambda: proofing.dilute_to_volume(60.0, 40.0, -1.0), RangeError, "volume -1 L must be a number above 0 L"),
    (
        lambda: proofing.dilute_to_volume(40.0, 60.0, 10.0),
        RangeError,
        "target strength 60 % vol must be above 0 and at most that of the spirit, 40 % vol: water cannot strengthen a spirit",
    ),
    (lambda: proofing.blend([]), InputError, "blend: no spirit given"),
    (lambda: proofing.blend([(40.0, -1.0)]), RangeError, "volume -1 L must be a number above 0 L"),
    (lambda: proofing.blend([(140.0, 1.0)]), RangeError, "abv 140 % vol is outside 0 to 100 % vol"),
    (lambda: proofing.blend([(40.0, 1.0, 60.0)]), RangeError, "temperature 60 degC is outside -20 to 40 degC"),
    (lambda: proofing.bottles(40.0, 10.0, 0.0), RangeError, "bottle 0 L must be a number above 0 L"),
    (
        lambda: proofing.bottles(40.0, 10.0, 0.7, 20.0, 60.0),
        RangeError,
        "temperature 60 degC is outside -20 to 40 degC",
    ),
    (lambda: proofing.bottles(40.0, 10.0, 0.7, 60.0), RangeError, "temperature 60 degC is outside -20 to 40 degC"),
    (lambda: liquid.wash_density(60.0, 30.0, 20.0), RangeError, "extract 30 % mass is outside 0 to 28 % mass"),
    (
        lambda: strength.abv_from_gravity([1.05, 1.3], 1.01),
        RangeError,
        "element [1]: original gravity 1.3 is outside 1 to 1.13",
    ),
    (
        lambda: mash.grain("rolled oats").with_analysis(moisture=float("inf")),
        RangeError,
        "moisture of flaked oats inf % is outside 0 to 100 %",
    ),
    (lambda: proofing.dilute(60.0, float("inf"), 40.0), RangeError, "volume inf L must be a number above 0 L"),
]


@pytest.mark.parametrize(("call", "error", "text"), WRONG, ids=[text for _, _, text in WRONG])
def test_message(call: Callable[[], object], error: type[ferment.Error], text: str) -> None:
    with pytest.raises(ferment.Error) as caught:
        call()
    assert type(caught.value) is error
    message = str(caught.value)
    assert "\n" not in message
    assert "nan" not in message.partition(" is outside ")[2]
    if message != text:  # what follows is the source, in brackets
        assert message.startswith(f"{text} (")
        assert message.endswith(")")


def test_every_module_is_tried() -> None:
    assert len(WRONG) >= 40
    named = {name for call, _, _ in WRONG for name in call.__code__.co_names}
    assert named >= {"liquid", "instrument", "strength", "mash", "fermentation", "proofing"}


def test_strength_of_a_wash_has_a_bound() -> None:
    with pytest.raises(RangeError, match=r"^abv 101 % vol is outside 0 to [0-9.]+ % vol"):
        liquid.wash_abw(101.0, 3.0)


def test_words_are_no_numbers() -> None:
    for call in (
        lambda: liquid.water_density("20"),
        lambda: liquid.sg_from_density("heavy"),
        lambda: liquid.plato_from_sg("1.05"),
        lambda: strength.gravity_balance("1.05", 1.01),
        lambda: instrument.Hydrometer().correct("1.05", 20.0),
        lambda: instrument.Hydrometer(calibration_c="20"),  # type: ignore[arg-type]
        lambda: proofing.dilute("60", 10.0, 40.0),  # type: ignore[arg-type]
    ):
        with pytest.raises(TypeError):
            call()
