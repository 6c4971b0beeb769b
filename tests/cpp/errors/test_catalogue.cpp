// The catalogue of wrong inputs of the C++ doors: what is called, the error, and every word of its message. The other doors have theirs in tests/errors.
#include <cmath>
#include <ferment/batch/ledger.hpp>
#include <ferment/core/error.hpp>
#include <ferment/core/quantity.hpp>
#include <ferment/fermentation/inoculum.hpp>
#include <ferment/fermentation/vessel.hpp>
#include <ferment/instrument/hydrometer.hpp>
#include <ferment/instrument/refractometer.hpp>
#include <ferment/liquid/spirit.hpp>
#include <ferment/liquid/sucrose.hpp>
#include <ferment/liquid/wash.hpp>
#include <ferment/liquid/water.hpp>
#include <ferment/mash/bill.hpp>
#include <ferment/mash/grain.hpp>
#include <ferment/mash/grain_table.hpp>
#include <ferment/mash/potential.hpp>
#include <ferment/proofing/blend.hpp>
#include <ferment/proofing/bottling.hpp>
#include <ferment/proofing/dilution.hpp>
#include <ferment/still/charge.hpp>
#include <ferment/still/column.hpp>
#include <ferment/still/congeners.hpp>
#include <ferment/still/stripping.hpp>
#include <ferment/strength/gravity.hpp>
#include <functional>
#include <limits>
#include <span>
#include <string>
#include <vector>

#include "catch.hpp"

using namespace ferment;

namespace {

constexpr double nan_value = std::numeric_limits<double>::quiet_NaN();
const pressure<> at_sea = pressure<>::from_value(101325.0);

specific_gravity<> og_of(const double sg) {
    return specific_gravity<>::from_value(sg);
}
Grain wet_rye(const double moisture) {
    Grain rye = grain("rye");
    rye.moisture.value = moisture;
    return rye;
}
Grain rye_named(const std::string& name) {
    Grain rye = wet_rye(1.1);
    rye.name = name;
    return rye;
}
Potential theoretical_of(const double water_kg) {
    Bill bill;
    bill.add(grain("rye"), 5.0 * kilogram);
    return potential(bill, water_kg * kilogram, Assumptions{});
}
StillLiquid wash_of(const double litres) {
    return still_liquid(litres * litre, 8.0 * percent_vol, 0.0 * degree_plato);
}
StillSetup boiler(const double litres) {
    StillSetup still;
    still.boiler_l = litres;
    return still;
}
ColumnRun column_run(const Column& column, const TakeOff& take_off) {
    ColumnStop stop;
    stop.pot_abv = 0.05;
    return rectify({20.0, 0.23}, column, {3.0, 0.0, 0.0}, take_off, stop, at_sea, 5);
}
Ledger ledger_of_four() {
    LedgerStart start;
    start.pure_alcohol_l = Uncertain(4.0);
    start.grain_kg = 10.0;
    start.dry_grain_kg = Uncertain(9.0);
    return Ledger(start);
}

struct Wrong {
    std::string kind;
    std::string text;
    std::string expression;
    std::function<void()> call;
};

std::string kind_of(const std::function<void()>& call, std::string& text) {
    try {
        call();
    } catch (const RangeError& error) {
        text = error.what();
        return "RangeError";
    } catch (const InputError& error) {
        text = error.what();
        return "InputError";
    } catch (const SolveError& error) {
        text = error.what();
        return "SolveError";
    }
    return "no error";
}

}  // namespace

TEST_CASE("errors: the catalogue, word for word", "[errors]") {
    std::vector<Wrong> wrong;
    // The whole of the message stands here: it was read as whoever gets it will read it.
#define WRONG(kind, text, ...) wrong.push_back({#kind, text, #__VA_ARGS__, [] { (void)(__VA_ARGS__); }})
    // water and sugar
    WRONG(RangeError,
          "temperature 101 degC is outside 0 to 100 degC (IAPWS SR6-08(2011), Revised Supplementary Release on Properties of Liquid Water at 0.1 MPa, eq. (2))",
          water_density(101.0 * degree_celsius));
    WRONG(RangeError,
          "extract 71 % mass is outside 0 to 70 % mass (ICUMSA SPS-4 polynomial: Bubnik, Kadlec, Urban, Bruhns, Sugar Technologists Manual, Bartens 1995, p. "
          "164; Llano-Restrepo 2005)",
          sucrose_density(71.0 * degree_plato, 20.0 * degree_celsius));
    WRONG(RangeError,
          "temperature 81 degC is outside 0 to 80 degC (ICUMSA SPS-4 polynomial: Bubnik, Kadlec, Urban, Bruhns, Sugar Technologists Manual, Bartens 1995, p. "
          "164; Llano-Restrepo 2005)",
          sucrose_density(10.0 * degree_plato, 81.0 * degree_celsius));
    WRONG(RangeError, "density 900 kg/m3 is outside 998.2031227 to 1347.477506 kg/m3 (sucrose solutions of 0 to 70 % at this temperature)",
          extract_from_density(900.0 * kilogram_per_cubic_metre, 20.0 * degree_celsius));
    WRONG(RangeError,
          "extract 61 % mass is outside 0 to 60 % mass (CRC Handbook of Chemistry and Physics, 102nd ed. 2021, section 5, Concentrative Properties of Aqueous "
          "Solutions (after Wolf 1966))",
          glucose_density(61.0 * degree_plato));

    // spirit and wash
    WRONG(RangeError,
          "abw 101 % mass is outside 0 to 100 % mass (OIML R 22, International alcoholometric tables, 1975; Council Directive 76/766/EEC, OJ L 262, 27.9.1976, "
          "Annex section 4)",
          spirit_density(101.0 * percent_mass, 20.0 * degree_celsius));
    WRONG(RangeError,
          "temperature 41 degC is outside -20 to 40 degC (OIML R 22, International alcoholometric tables, 1975; Council Directive 76/766/EEC, OJ L 262, "
          "27.9.1976, Annex section 4)",
          spirit_density(50.0 * percent_mass, 41.0 * degree_celsius));
    WRONG(RangeError, "abw 5 % mass is outside 24.59464748 to 100 % mass (at -15 degC a weaker spirit is frozen: CRC Handbook 102nd ed., section 5, ethanol)",
          spirit_density(5.0 * percent_mass, -15.0 * degree_celsius));
    WRONG(RangeError, "density 700 kg/m3 is outside 789.2391233 to 998.20123 kg/m3 (ethanol-water mixtures at this temperature, OIML R 22)",
          abw_from_density(700.0 * kilogram_per_cubic_metre, 20.0 * degree_celsius));
    WRONG(RangeError,
          "abv 100.5 % vol is outside 0 to 100 % vol (OIML R 22, International alcoholometric tables, 1975; Council Directive 76/766/EEC, OJ L 262, 27.9.1976, "
          "Annex section 4)",
          abw_from_abv(100.5 * percent_vol));
    WRONG(RangeError,
          "abw -1 % mass is outside 0 to 100 % mass (OIML R 22, International alcoholometric tables, 1975; Council Directive 76/766/EEC, OJ L 262, 27.9.1976, "
          "Annex section 4)",
          abv_from_abw(-1.0 * percent_mass));
    WRONG(RangeError, "extract 30 % mass is outside 0 to 28 % mass (with 60 % mass of ethanol in the wash)",
          wash_density(60.0 * percent_mass, 30.0 * degree_plato, 20.0 * degree_celsius));
    WRONG(RangeError,
          "temperature 45 degC is outside 0 to 40 degC (additive specific volumes of OIML R 22 and ICUMSA SPS-4 (the exact form of Tabarie's rule; compare "
          "OIV-MA-AS2-03B))",
          wash_density(10.0 * percent_mass, 5.0 * degree_plato, 45.0 * degree_celsius));
    WRONG(RangeError,
          "abv 101 % vol is outside 0 to 97.67563349 % vol (additive specific volumes of OIML R 22 and ICUMSA SPS-4 (the exact form of Tabarie's rule; compare "
          "OIV-MA-AS2-03B))",
          wash_abw(101.0 * percent_vol, 3.0 * degree_plato));
    WRONG(RangeError, "density 700 kg/m3 is outside 984.7325478 to 1290.195306 kg/m3 (washes of this ethanol at this temperature)",
          wash_extract(700.0 * kilogram_per_cubic_metre, 8.0 * percent_mass, 20.0 * degree_celsius));

    // instruments
    WRONG(RangeError, "calibration temperature 60 degC is outside 0 to 40 degC (hydrometer scales in use)",
          Hydrometer(hydrometer_scale::plato, 60.0 * degree_celsius));
    WRONG(RangeError, "glass expansion 0.1 1/K is outside 0 to 0.001 1/K (cubic expansion; soda-lime glass is 25e-6)",
          Hydrometer(hydrometer_scale::plato, 20.0 * degree_celsius, 0.1));
    WRONG(RangeError, "meniscus correction 0.5 SG is outside -0.02 to 0.02 SG (no meniscus is higher)",
          Hydrometer(hydrometer_scale::specific_gravity, 20.0 * degree_celsius, conventional_glass_expansion, 0.5));
    WRONG(InputError, "hydrometer: calibration temperature, glass expansion and meniscus correction must be numbers",
          Hydrometer(hydrometer_scale::plato, 20.0 * degree_celsius, conventional_glass_expansion, nan_value));
    WRONG(RangeError, "hydrometer reading 1050 SG is outside 0.6 to 2 SG (no hydrometer shows that)",
          Hydrometer().correct(1050.0, 20.0 * degree_celsius, SampleWort{}));
    WRONG(RangeError,
          "hydrometer reading 0.95 SG at 20 degC is below that of water, and no wort is that light; for a wash say what is known of it, its strength or its "
          "extract",
          Hydrometer().correct(0.95, 20.0 * degree_celsius, SampleWort{}));
    WRONG(RangeError, "density 1497.304684 kg/m3 is outside 998.2031227 to 1347.477506 kg/m3 (sucrose solutions of 0 to 70 % at this temperature)",
          Hydrometer().correct(1.5, 20.0 * degree_celsius, SampleWort{}));
    WRONG(RangeError, "density 1048.111292 kg/m3 is outside 789.2391233 to 998.20123 kg/m3 (ethanol-water mixtures at this temperature, OIML R 22)",
          Hydrometer().correct(1.05, 20.0 * degree_celsius, SampleSpirit{}));
    WRONG(RangeError, "hydrometer reading 0.9 at 20 degC is too low for a wash of 8 % vol, whatever its extract",
          Hydrometer().correct(0.9, 20.0 * degree_celsius, SampleWash{SampleWash::known::strength, 0.08}));
    WRONG(RangeError, "hydrometer reading 1.2 at 20 degC is too high for a wash of 3 % extract, whatever its strength",
          Hydrometer().correct(1.2, 20.0 * degree_celsius, SampleWash{SampleWash::known::extract, 0.03}));
    WRONG(InputError, "refractometer: the zero error must be a number", Refractometer(refractometer_scale::brix, nan_value));
    WRONG(RangeError, "zero error of the refractometer 50 degBx is outside -10 to 10 degBx (one further out belongs adjusted)",
          Refractometer(refractometer_scale::brix, 50.0));
    WRONG(RangeError, "zero error of the refractometer 0.02 is outside -0.015 to 0.015 (one further out belongs adjusted)",
          Refractometer(refractometer_scale::refractive_index, 0.02));

    // strength
    WRONG(RangeError,
          "original gravity 1.2 is outside 1 to 1.13 (mass balance with the yield of Bringhurst et al. (1996) J. Inst. Brew. 102, 433-437, or Balling (1865); "
          "density of a wash from OIML R 22 and ICUMSA SPS-4)",
          gravity_balance(og_of(1.2), og_of(1.01)));
    WRONG(InputError, "final gravity 1.06 is above the original gravity 1.05; fermentation can only lower it", gravity_balance(og_of(1.05), og_of(1.06)));
    WRONG(RangeError,
          "final gravity 0.985 is outside 0.9889546943 to 1.05 (a wort of gravity 1.05 fermented out has 0.9889546943, nothing is left to ferment below that)",
          gravity_balance(og_of(1.05), og_of(0.985)));
    WRONG(InputError, "gravity method \"guess\" is not known; allowed are density_balance, balling, cutaia_a, cutaia_q, doemens_a, hall, hmrc_226",
          gravity_method_from_string("guess"));
    WRONG(InputError,
          "gravity method \"xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx...\" is not known; allowed are density_balance, balling, cutaia_a, "
          "cutaia_q, doemens_a, hall, hmrc_226",
          gravity_method_from_string(std::string(1000, 'x')));
    WRONG(RangeError,
          "fall of the gravity 130 degrees is outside 0 to 100.7 degrees (HM Revenue & Customs, Excise Notice 226 Beer Duty, par. 30.2-30.3 (withdrawn "
          "February 2025))",
          hmrc_226_abv(og_of(1.12), og_of(0.99)));
    WRONG(RangeError, "abv -1 % vol is outside 0 to 100 % vol (HMRC Alcoholic products technical guide, section 11)", duty_strength(-1.0 * percent_vol));

    // grain and mash
    WRONG(InputError, "unknown grain \"barly\"; the nearest known names are barley, barley malt, pearl millet, hulled oats, spelt", grain("barly"));
    WRONG(InputError,
          "unknown grain \"xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx...\"; the nearest known names are glucose monohydrate, hulled oats, "
          "hulless oats, flaked oats, wheat",
          grain(std::string(1000, 'x')));
    WRONG(InputError, "unknown grain \"flaked?rye\"; the nearest known names are flaked rye, flaked rice, flaked oats, flaked wheat, flaked barley",
          grain("flaked\nrye"));
    WRONG(InputError, "mass of rye is not a number; it must be more than 0 kg", Bill().add(grain("rye"), nan_value * kilogram));
    WRONG(RangeError, "mass of rye -1 kg must be more than 0 kg", Bill().add(grain("rye"), -1.0 * kilogram));
    WRONG(InputError, "a grain needs a name", validate(Grain{}));
    WRONG(RangeError, "moisture of rye 110 % is outside 0 to 100 % (share of the mass as weighed)", validate(wet_rye(1.1)));
    WRONG(InputError, "moisture of rye is not a number", validate(wet_rye(nan_value)));
    WRONG(RangeError, "moisture of xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx... 110 % is outside 0 to 100 % (share of the mass as weighed)",
          validate(rye_named(std::string(1000, 'x'))));
    WRONG(RangeError, "mass of water -1 kg must be zero or more", theoretical_of(-1.0));
    WRONG(RangeError,
          "extract of the equivalent wort 89.21937028 % is outside 0 to 70 % (add water: this much extract does not dissolve in 0.3911212463 kg of it)",
          theoretical_of(0.0));
    WRONG(InputError, "mass of water must be a finite number of kg, zero or more", theoretical_of(nan_value));

    // what goes into the mash
    WRONG(RangeError, "cells -1 million per mL is outside 0 to 1000 million per mL (a thick slurry has a thousand)", yeast_of_cells(-1.0, 100.0 * litre));
    WRONG(RangeError, "volume of mash 0 L must be more than 0 L", yeast_of_cells(10.0, 0.0 * litre));
    WRONG(InputError, "cells is not a number", yeast_of_cells(nan_value, 100.0 * litre));
    WRONG(InputError, "logged ambient needs as many times as temperatures, at least one; got 2 and 1", Ambient::logged({0.0, 1.0}, {20.0}));
    WRONG(InputError, "times of the logged ambient must rise; 0 h follows 1 h", Ambient::logged({1.0, 0.0}, {20.0, 20.0}));
    WRONG(RangeError, "ambient temperature 120 degC is outside -30 to 50 degC (air around a fermenter)", Ambient::constant(120.0));

    // the still
    WRONG(RangeError, "volume of the liquid -1 L is below the lowest allowed, 0 L", still_liquid(-1.0 * litre, 8.0 * percent_vol, 0.0 * degree_plato));
    WRONG(RangeError,
          "abv 108 % vol is outside 0 to 100 % vol (additive specific volumes of OIML R 22 and ICUMSA SPS-4 (the exact form of Tabarie's rule; compare "
          "OIV-MA-AS2-03B))",
          still_liquid(20.0 * litre, 108.0 * percent_vol, 0.0 * degree_plato));
    WRONG(InputError, "abv is not a number; it must be a finite number in % vol", still_liquid(20.0 * litre, nan_value * percent_vol, 0.0 * degree_plato));
    WRONG(RangeError, "boiler volume 0 L must be more than zero", plan_charges(wash_of(100.0), Reserve{}, boiler(0.0)));
    WRONG(RangeError, "volume of the reserve -1 L is below the lowest allowed, 0 L", plan_charges(wash_of(100.0), Reserve{-1.0, 0.3}, boiler(30.0)));
    WRONG(RangeError, "strength coming over 80 % vol is already passed at the first drop, with 49.8909948 % vol",
          strip(wash_of(20.0), boiler(30.0), StripStop::distillate_abv(80.0 * percent_vol)));
    WRONG(SolveError, "volume collected 50 L is not reached: it is 19.80200951 L when 99 % of the charge has come over, where the pot is nearly dry or a syrup",
          strip(wash_of(20.0), boiler(30.0), StripStop::collected(50.0 * litre)));
    WRONG(RangeError, "distillate 98.12054762 % vol is not below the azeotrope, 97.21208921 % vol at 101.325 kPa: no column gets past it",
          minimum_reflux(10.0 * percent_mass, 97.0 * percent_mass, at_sea));
    WRONG(InputError, "the pot of 85.48852476 % vol must be weaker than the distillate of 24.54533503 % vol",
          minimum_reflux(80.0 * percent_mass, 20.0 * percent_mass, at_sea));
    WRONG(RangeError, "reflux ratio -1 must be at least 0", column_run({4, 0.0}, TakeOff::at_reflux(-1.0)));
    WRONG(RangeError,
          "plates 201 is outside 0 to 200 (McCabe WL, Thiele EW, 1925. Graphical design of fractionating columns. Ind. Eng. Chem. 17, 605-611; batch form as "
          "in Coulson & Richardson, Chemical Engineering vol. 2, 5th ed. 2002, section 11.6)",
          column_run({201, 0.0}, TakeOff::at_reflux(1.0)));
    WRONG(InputError, "a still without plates has no hold-up", column_run({0, 1.0}, TakeOff::at_reflux(1.0)));
    WRONG(SolveError, "a distillate of 95 % vol cannot be had from this charge with 1 plate at the maximum reflux of 20",
          column_run({1, 0.0}, TakeOff::at_strength(0.95, 20.0)));
    WRONG(RangeError, "distillate 30 % vol is weaker than what the pot of 28.10777459 % vol gives without any reflux",
          column_run({4, 0.0}, TakeOff::at_strength(0.3, 20.0)));
    WRONG(RangeError, "take-off 500 L/h is not below what boils up, 12.36511203 L/h of the same strength", column_run({4, 0.0}, TakeOff::at_rate(500.0)));
    WRONG(
        InputError,
        "congener \"vanillin\" is not known; known are acetaldehyde, ethyl_acetate, methanol, n_propanol, isobutanol, isoamyl_alcohols, furfural, acetic_acid",
        congener("vanillin"));

    // proofing
    WRONG(RangeError, "target strength 67.74355606 % vol must be above 0 and at most that of the spirit, 36.25457982 % vol: water cannot strengthen a spirit",
          dilute(weigh(7.0 * litre, 30.0 * percent_mass, 20.0 * degree_celsius), 60.0 * percent_mass, 20.0 * degree_celsius));
    WRONG(RangeError, "volume -7 L must be a number above 0 L", weigh(-7.0 * litre, 30.0 * percent_mass, 20.0 * degree_celsius));
    WRONG(RangeError, "bottle 0 L must be a number above 0 L",
          bottles(weigh(7.0 * litre, 30.0 * percent_mass, 20.0 * degree_celsius), 0.0 * litre, 20.0 * degree_celsius));
    WRONG(InputError, "blend: no spirit given", blend(std::span<const SpiritMass>{}));

    // the ledger
    WRONG(InputError,
          "place of a batch \"hart\" is not known; known are potential, wash, off_the_grain, low_wines, hearts, bottles, kept_by_grain, stripping_pot, "
          "spirit_pot, fore_shots, heads, tails, rest",
          batch_place_from("hart"));
    WRONG(RangeError, "taken out of wash -1 L must be zero or more L of pure alcohol at 20 degC",
          ledger_of_four().take_out(batch_place::wash, Uncertain(-1.0)));
    WRONG(RangeError, "measured hearts -3 L must be zero or more L of pure alcohol at 20 degC", ledger_of_four().measure(batch_place::hearts, Uncertain(-3.0)));
    WRONG(InputError, "measured hearts is not a number; it must be zero or more L of pure alcohol at 20 degC",
          ledger_of_four().measure(batch_place::hearts, Uncertain(nan_value)));
    WRONG(InputError, "hearts is measured already (2 L); forget that measurement before 2.1 L is entered",
          ledger_of_four().measure(batch_place::hearts, Uncertain(2.0)).measure(batch_place::hearts, Uncertain(2.1)));
#undef WRONG
    for (const Wrong& one : wrong) {
        CAPTURE(one.expression);
        std::string text;
        const std::string kind = kind_of(one.call, text);
        CHECK(kind == one.kind);
        CHECK(text == one.text);
    }
    CHECK(wrong.size() >= 60);
}
