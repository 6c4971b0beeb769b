#include <algorithm>
#include <cmath>
#include <ferment/core/stoichiometry.hpp>
#include <ferment/mash/grain_table.hpp>
#include <ferment/mash/potential.hpp>
#include <limits>
#include <string>

#include "catch.hpp"
#include "csv.hpp"

using namespace ferment;
using ferment_test::read_table;
using ferment_test::Row;

namespace {

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

const Assumptions everything{{1.0, 0.0}, {1.0, 0.0}, {0.2, 0.08}};
const Assumptions usual{{0.88, 0.04}, {0.96, 0.015}, {0.2, 0.08}};

Row row_where(const std::string& table, const std::string& column, const std::string& value) {
    for (const Row& row : read_table(table)) {
        if (row.text(column) == value) return row;
    }
    throw std::runtime_error(table + " has no row " + value);
}

/// One tonne of a grain in four tonnes of water.
Yield tonne(const Grain& g, const double conversion, const double efficiency) {
    Bill bill;
    bill.add(g, kilograms_per_tonne * kilogram);
    return potential(bill, 4000.0 * kilogram, {{conversion, 0.0}, {efficiency, 0.0}, {0.2, 0.08}}).expected;
}

/// A material of which nothing but dry starch and sugar is known, at a moisture.
Grain only(const double starch_dry, const double hexose_dry, const double moisture = 0.0) {
    Grain g;
    g.name = "material";
    g.moisture.value = moisture;
    g.starch.value = starch_dry * (1.0 - moisture);
    g.sugars.value = hexose_dry * (1.0 - moisture);
    return g;
}

double per_tonne_dry(const Grain& g, const double overall) {
    return tonne(g, 1.0, overall).bill.pure_alcohol_l_per_tonne_dry.value();
}

double per_tonne(const Grain& g, const double overall) {
    return tonne(g, 1.0, overall).bill.pure_alcohol_l_per_tonne.value();
}

constexpr double gallons_per_bushel(const double value, const double bushel_lb) {
    return value * us_gallon_l / (bushel_lb * pound_kg) * kilograms_per_tonne;  // L/t
}

}  // namespace

TEST_CASE("stoichiometry: the published ratios", "[mash][published]") {
    const double tolerance = 1e-4;  // relative, as the table of relations supports
    const std::string relations = "grain/spirit_yield_relations.csv";
    const auto published = [&](const std::string& quantity) { return row_where(relations, "quantity", quantity).number("value"); };
    const auto close = [&](const double x, const double y) { return std::abs(x - y) <= tolerance * std::abs(y); };
    CHECK(close(stoichiometry::glucose_per_starch, published("stoichiometric glucose from starch (anhydroglucose C6H10O5)")));
    CHECK(close(stoichiometry::ethanol_per_glucose, published("stoichiometric ethanol from glucose")));
    CHECK(close(stoichiometry::ethanol_per_starch, published("stoichiometric ethanol from starch")));
    const double per_disaccharide = stoichiometry::hexose_per_disaccharide * stoichiometry::ethanol_per_glucose;
    CHECK(close(per_disaccharide, published("stoichiometric ethanol from sucrose")));
    CHECK(close(per_disaccharide, published("stoichiometric ethanol from maltose (anhydrous)")));
    CHECK(close(stoichiometry::glucose_per_starch * stoichiometry::co2_per_glucose, published("stoichiometric CO2 from starch")));
    CHECK(close(per_tonne(only(1.0, 0.0), 1.0), published("litres ethanol per tonne starch, stoichiometric")));
    CHECK(close(per_tonne(only(0.0, 1.0), 1.0), published("litres ethanol per tonne glucose, stoichiometric")));
    Grain sucrose = only(0.0, 1.0);
    sucrose.disaccharide_share = 1.0;
    CHECK(close(per_tonne(sucrose, 1.0), published("litres ethanol per tonne sucrose, stoichiometric")));

    const std::string balance = "no_cook_fermentation/stoichiometry_heat_nutrients.csv";
    const auto by_id = [&](const std::string& id) { return row_where(balance, "id", id).number("value"); };
    CHECK(close(stoichiometry::glucose_per_starch, by_id("S01")));
    CHECK(close(stoichiometry::ethanol_per_glucose, by_id("S02")));
    CHECK(close(stoichiometry::co2_per_glucose, by_id("S04")));
    CHECK(close(stoichiometry::co2_per_glucose / stoichiometry::ethanol_per_glucose, by_id("S06")));
    CHECK(close(0.001 * per_tonne(only(1.0, 0.0), 1.0), by_id("S07")));
}

TEST_CASE("stoichiometry: no atom is lost", "[mash][identity]") {
    CHECK(std::abs(stoichiometry::ethanol_per_glucose + stoichiometry::co2_per_glucose - 1.0) <= 1e-15);
    CHECK(std::abs(stoichiometry::glucose_per_starch - stoichiometry::water_per_starch - 1.0) <= 1e-15);
    CHECK(std::abs(2.0 * stoichiometry::glucose - stoichiometry::disaccharide - stoichiometry::water) <= 1e-12);
    CHECK(std::abs(stoichiometry::glucose - stoichiometry::anhydroglucose - stoichiometry::water) <= 1e-12);
}

TEST_CASE("units: points per pound per gallon and litre-degrees per kg", "[mash][published]") {
    const std::string units = "grain/units_bushels_extract_units.csv";
    CHECK(pound_kg == row_where(units, "quantity", "pound").number("value"));
    CHECK(us_gallon_l == row_where(units, "quantity", "US gallon").number("value"));
    const double ratio = row_where(units, "quantity", "litre-degree per kg in points x gal/lb (PPG per L.deg/kg)").number("value");
    CHECK(std::abs(points_per_litre_degree - ratio) <= 0.5e-10);
    CHECK(std::abs(1.0 / points_per_litre_degree - row_where(units, "quantity", "inverse").number("value")) <= 0.5e-8);
    int compared = 0;
    for (const Row& row : read_table(units)) {
        const std::string& what = row.text("quantity");
        if (what.rfind("sucrose solution of ", 0) != 0) continue;
        const double w = 0.01 * std::stod(what.substr(std::string("sucrose solution of ").size()));
        CAPTURE(what);
        CHECK(std::abs(litre_degrees_of_extract(w) - row.number("value")) <= 0.005);
        const std::string& note = row.text("note");  // "= 46.288 PPG; ..."
        CHECK(std::abs(litre_degrees_of_extract(w) * points_per_litre_degree - std::stod(note.substr(2))) <= 0.001);
        ++compared;
    }
    CHECK(compared >= 8);
    CHECK(std::isnan(litre_degrees_of_extract(0.71)));
}

TEST_CASE("litre-degrees: the definition works out on published examples", "[mash][published]") {
    // The Oxford Companion to Beer: 1 kg of 300 L.deg/kg gives 10 L of 1.030 or 5 L of 1.060. The gravity of so much extract in so much wort,
    // by density, differs from the rule of three by less than the last digit printed.
    for (const auto& [litres, sg] : {std::pair{10.0, 1.030}, std::pair{5.0, 1.060}}) {
        CAPTURE(litres);
        const double extract_kg = 300.0 / litre_degrees_of_extract(litre_degree_reference_extract);
        const double grams = extract_kg * 1000.0 / litres;
        const double w = wort_gravity::extract_from_grams_per_litre(grams, 20.0);
        CHECK(std::abs(wort_gravity::from_extract(w, gravity_frame{}) - sg) <= 0.0005);
    }
    CHECK(row_where("grain/worked_examples.csv", "inputs", "100 kg malt gives 500 L wort at SG 1.056").number("result") == std::round(500.0 * 56.0 / 100.0));
}

TEST_CASE("extract potential of the table against the printed typical values", "[mash][published]") {
    // The Oxford Companion to Beer: malt 300, maize grits 340, rice flakes 360 L.deg/kg, rounded to 10, basis not stated; the doubt is that of
    // the table's own spread, twice. On dry basis malt and grits agree; rice flakes of the Indian table hold less starch (68 % as weighed,
    // 8 points below its carbohydrate by difference) and fall 15 L.deg/kg short of the printed value, within their doubt only at white rice.
    const std::string units = "grain/units_bushels_extract_units.csv";
    const auto dry = [](const char* name) {
        const GrainPotential p = tonne(grain(name), 1.0, 1.0).bill;
        return p.extract_dry * litre_degrees_of_extract(litre_degree_reference_extract);
    };
    const auto printed = [&](const char* what) { return row_where(units, "quantity", what).number("value"); };
    const Uncertain malt = dry("barley malt");
    const Uncertain grits = dry("maize grits");
    CHECK(std::abs(malt.value() - printed("extract potential, malt, typical")) <= 5.0 + 2.0 * malt.standard_uncertainty());
    CHECK(std::abs(grits.value() - printed("extract potential, maize grits")) <= 5.0 + 2.0 * grits.standard_uncertainty());
    const Uncertain flakes = dry("flaked rice");
    const Uncertain white = dry("white rice");
    CHECK(std::abs(flakes.value() - 345.0) <= 1.0);  // known disagreement with 360
    CHECK(flakes.value() < printed("extract potential, rice flakes"));
    CHECK(white.value() > printed("extract potential, rice flakes"));
    // Master Brewers Association: fine-grind extract of North American two-row malt 81.4 to 82.6 % dry; starch of malt is from memory.
    const Uncertain extract = tonne(grain("barley malt"), 1.0, 1.0).bill.extract_dry;
    CHECK(extract.value() - 2.0 * extract.standard_uncertainty() <= 0.814);
    CHECK(extract.value() + 2.0 * extract.standard_uncertainty() >= 0.826);
}

TEST_CASE("laboratory mash: extract of malt", "[mash][published]") {
    // Mass balance of the standard mash; formula check to the rounding of the table, 0.01 %.
    for (const Row& row : read_table("grain/congress_extract_computed.csv")) {
        const double p = 0.01 * row.number("wort_percent_w_w_P");
        const double m = 0.01 * row.number("malt_moisture_percent_M");
        CAPTURE(p, m);
        CHECK(std::abs(100.0 * laboratory_mash::extract_as_is(p, m) - row.number("extract_as_is_percent")) <= 0.01);
        CHECK(std::abs(100.0 * laboratory_mash::extract_dry(p, m) - row.number("extract_dry_basis_percent")) <= 0.01);
    }
    CHECK(std::isnan(laboratory_mash::extract_as_is(0.8, 0.04)));
    CHECK(std::isnan(laboratory_mash::extract_as_is(0.08, -0.04)));
    CHECK(std::isnan(laboratory_mash::extract_as_is(not_a_number, 0.04)));
    // And the equivalent wort of the potential is the same balance: a malt that converts to E in eight times its mass of water.
    const Grain malt = grain("barley malt");
    Bill bill;
    bill.add(malt, 50.0 * kilogram);
    const Yield y = potential(bill, 400.0 * kilogram, everything).theoretical;
    const double e = laboratory_mash::extract_as_is(y.extract.value(), malt.moisture.value);
    const double bound = y.hydrolysis_water_kg.value() / 50.0;  // the laboratory formula neglects the water bound in hydrolysis
    CHECK(std::abs(e - y.extract.value() / (1.0 - y.extract.value()) * bound - y.bill.extract_as_is.value()) <= 1e-12);
}

TEST_CASE("potential: every kilogram is accounted for", "[mash][identity]") {
    Bill bill;
    bill.add(grain("hulless oats"), 12.0 * kilogram).add(grain("barley malt"), 2.0 * kilogram).add(grain("molasses"), 1.5 * kilogram);
    const Potential p = potential(bill, 55.0 * kilogram, usual);
    const double in = 15.5 + 55.0;
    for (const double conversion : {0.0, 0.3, 1.0}) {
        for (const double fermented : {0.0, 0.5, 1.0}) {
            const auto m = mash_balance::stage<Uncertain>(p.masses, 55.0, conversion, fermented, 0.95, 0.7, 0.2);
            CAPTURE(conversion, fermented);
            CHECK(std::abs(m.total().value() - in) <= 1e-12 * in);
            CHECK(m.total().standard_uncertainty() <= 1e-12);  // no part's doubt can change what was weighed
        }
    }
    for (const Yield* y : {&p.theoretical, &p.expected}) {
        // starch + hydrolysis water = glucose; hexose = ethanol + CO2 + by-products
        const Uncertain glucose = y->starch_converted_kg + y->hydrolysis_water_kg;
        CHECK(std::abs((glucose + p.masses.hexose_of_sugars - y->hexose_kg).value()) <= 1e-12 * y->hexose_kg.value());
        CHECK(std::abs((y->ethanol_kg + y->co2_kg + y->by_products_kg - y->hexose_kg).value()) <= 1e-12 * y->hexose_kg.value());
        // the lines of the bill add up to the whole
        double alcohol = 0.0;
        double extract_kg = 0.0;
        for (const GrainPotential& g : y->grains) {
            alcohol += g.pure_alcohol_l.value();
            extract_kg += g.extract_as_is.value() * g.mass_kg;
        }
        CHECK(std::abs(alcohol - y->pure_alcohol_l.value()) <= 1e-12 * alcohol);
        CHECK(std::abs(extract_kg - y->extract_kg.value()) <= 1e-12 * extract_kg);
        CHECK(y->bill.mass_kg == 15.5);
    }
    CHECK(std::abs(p.theoretical.by_products_kg.value()) <= 1e-15);
    CHECK(p.expected.ethanol_kg < p.theoretical.ethanol_kg);
    CHECK(p.expected.original_gravity < p.theoretical.original_gravity);
}

TEST_CASE("potential: a sugar solution is a sugar solution", "[mash][identity]") {
    // 1 kg of sucrose and glucose in water: nothing to convert, so gravity and Plato are those of the liquid tables.
    Grain sucrose = only(0.0, 1.0);
    sucrose.disaccharide_share = 1.0;
    Bill bill;
    bill.add(sucrose, 1.0 * kilogram);
    const Yield y = potential(bill, 9.0 * kilogram, everything).expected;
    CHECK(std::abs(y.extract.value() - 0.10) <= 1e-15);
    CHECK(std::abs(y.original_gravity.value() - wort_gravity::from_extract(0.10, gravity_frame{})) <= 1e-15);
    CHECK(std::abs(y.glucose_gravity.value() * icumsa_sps4::water(20.0) - crc_glucose::density(0.10)) <= 1e-9);
    CHECK(y.glucose_gravity < y.original_gravity);  // glucose is lighter than sucrose of the same strength
    CHECK(std::abs(y.bill.litre_degrees_per_kg.value() - 385.16) <= 0.005);
    CHECK(std::abs(y.bill.points_per_pound_per_gallon.value() - 46.152) <= 0.001);
    CHECK(y.hydrolysis_water_kg.value() == 0.0);
}

TEST_CASE("potential: doubt and budget", "[mash]") {
    Bill bill;
    bill.add(grain("wheat"), 10.0 * kilogram);
    const Potential p = potential(bill, 40.0 * kilogram, usual);
    const Uncertain& lpa = p.expected.pure_alcohol_l;
    const auto budget = lpa.budget();
    REQUIRE(budget.size() == 4);
    double squares = 0.0;
    for (const auto& entry : budget) {
        squares += entry.amount * entry.amount;
    }
    CHECK(std::abs(std::sqrt(squares) - lpa.standard_uncertainty()) <= 1e-15);
    const auto has = [&](const std::string& name) { return std::any_of(budget.begin(), budget.end(), [&](const auto& e) { return e.name == name; }); };
    CHECK(has("conversion"));
    CHECK(has("fermentation efficiency"));
    CHECK(has("starch of wheat"));
    CHECK(has("sugars of wheat"));
    // By hand: alcohol is the product of hexose and efficiency.
    const double hexose = p.expected.hexose_kg.value();
    const Grain g = grain("wheat");
    const double from_starch = 10.0 * 0.88 * stoichiometry::glucose_per_starch;
    const double u_hexose = std::hypot(from_starch * g.starch.standard_uncertainty, std::hypot(10.0 * g.starch.value * stoichiometry::glucose_per_starch * 0.04,
                                                                                               10.0 * g.hexose_per_sugar() * g.sugars.standard_uncertainty));
    const double relative = std::hypot(u_hexose / hexose, 0.015 / 0.96);
    CHECK(std::abs(lpa.standard_uncertainty() / lpa.value() - relative) <= 1e-12);
    // Theoretical yield doubts the grain alone.
    CHECK(p.theoretical.pure_alcohol_l.budget().size() == 2);
    // A certificate narrows it.
    Analysis lot;
    lot.starch = measured{g.starch.value, 0.003};
    Bill certified;
    certified.add(with_analysis(g, lot), 10.0 * kilogram);
    CHECK(potential(certified, 40.0 * kilogram, usual).theoretical.pure_alcohol_l.standard_uncertainty() <
          0.5 * p.theoretical.pure_alcohol_l.standard_uncertainty());
}

TEST_CASE("potential: water by mass and by volume", "[mash]") {
    Bill bill;
    bill.add(grain("rye"), 10.0 * kilogram);
    const double kg = 40.0 * 0.001 * water_density(celsius<>::from_value(15.0)).value();
    const Potential by_volume = potential(bill, 40.0 * litre, celsius<>::from_value(15.0), usual);
    CHECK(std::abs(by_volume.water_kg - kg) <= 1e-12 * kg);
}

TEST_CASE("potential: errors", "[mash][errors]") {
    Bill bill;
    CHECK_THROWS_AS(potential(bill, 10.0 * kilogram, usual), InputError);
    bill.add(grain("rye"), 10.0 * kilogram);
    CHECK_THROWS_AS(potential(bill, -1.0 * kilogram, usual), RangeError);
    CHECK_THROWS_AS(potential(bill, not_a_number * kilogram, usual), InputError);
    CHECK_THROWS_AS(potential(bill, 1.0 * kilogram, usual), RangeError);  // does not dissolve
    Assumptions wrong = usual;
    wrong.conversion.value = 88.0;
    CHECK_THROWS_AS(potential(bill, 40.0 * kilogram, wrong), RangeError);
    wrong = usual;
    wrong.fermentation_efficiency.standard_uncertainty = -0.1;
    CHECK_THROWS_AS(potential(bill, 40.0 * kilogram, wrong), InputError);
    wrong = usual;
    wrong.soluble_share_of_rest.value = not_a_number;
    CHECK_THROWS_AS(potential(bill, 40.0 * kilogram, wrong), InputError);
    try {
        wrong = usual;
        wrong.conversion.value = 1.2;
        potential(bill, 40.0 * kilogram, wrong);
        FAIL("no error");
    } catch (const RangeError& e) {
        CHECK(std::string(e.what()) == "conversion 120 % is outside 0 to 100 % (a share of the whole)");
    }
}

// Alcohol per tonne. Conversion and efficiency are one number in these sources, "efficiency"; it is handed over as fermentation efficiency
// with all starch converted, which gives the same ethanol.

TEST_CASE("spirit yield: oats at the efficiency of their process", "[mash][published]") {
    // Thomas & Ingledew 1995 print starch and litres; 82.0 and 86.8 % follow from both (sugars neglected), so this checks the arithmetic:
    // within the printed standard deviation, for starch alone.
    const std::string measured_yields = "grain/spirit_yield_measured.csv";
    for (const auto& [name, inputs] : {std::pair{"Oats, hulless", "hulless oats: starch 59.8 % dry, 353.2 L/t dry"},
                                       std::pair{"Oats, hulled", "hulled oats: starch 50.8 % dry, 317.6 L/t dry"}}) {
        const Row row = row_where(measured_yields, "material", name);
        const double efficiency = row_where("grain/worked_examples.csv", "inputs", inputs).number("result");
        CAPTURE(name, efficiency);
        const double predicted = per_tonne_dry(only(0.01 * row.number("starch_or_other_percent"), 0.0), efficiency);
        CHECK(std::abs(predicted - row.number("value")) <= row.number("plus_minus"));
    }
}

TEST_CASE("spirit yield: wheat at the efficiency of its process", "[mash][published]") {
    // HGCA Research Review 61: 435 L/t dry from 69 % starch and 3 % sugar; 84.3 % with the sugar counted as hexose. To the litre printed.
    const Row row = row_where("grain/spirit_yield_measured.csv", "material", "Wheat, UK feed");
    const double efficiency = row_where("grain/worked_examples.csv", "inputs", "wheat: starch 69 % + sugar 3 % dry, 435 L/t dry").number("result");
    CHECK(std::abs(per_tonne_dry(only(0.69, 0.03), efficiency) - row.number("value")) <= 0.5);
    // The table's wheat counts most sugar as disaccharide and gives 1 L more, within the 2 % that one value supports.
    CHECK(std::abs(per_tonne_dry(grain("wheat"), efficiency) - row.number("value")) <= 0.02 * row.number("value"));
    // 7.4 t/ha give 3219 L/ha, printed 3220.
    CHECK(std::abs(7.4 * per_tonne_dry(only(0.69, 0.03), efficiency) - 3220.0) <= 5.0);
}

TEST_CASE("spirit yield: waxy sorghum at the stated efficiencies", "[mash][published]") {
    // Cereal Chemistry 88(6):589-595: 65.4 % starch at 86.0 % gives 2.61 gal/bu, 76.3 % at 92.2 % gives 3.03. The abstract leaves the basis of
    // starch and bushel open and the ends need not belong to one sample: dry starch, the 10.9 % moisture that the upper end implies, 8 %.
    const double moisture = 0.109;
    const double low = gallons_per_bushel(row_where("grain/spirit_yield_measured.csv", "material", "Sorghum, waxy, lowest of 25").number("value"), 56.0);
    const double high = gallons_per_bushel(row_where("grain/spirit_yield_measured.csv", "material", "Sorghum, waxy, highest of 25").number("value"), 56.0);
    CHECK(std::abs(per_tonne(only(0.654, 0.0, moisture), 0.860) - low) <= 0.08 * low);
    CHECK(std::abs(per_tonne(only(0.763, 0.0, moisture), 0.922) - high) <= 0.08 * high);
    // The sorghum of the grain table, at either efficiency, lies between the lowest and the highest of the 25.
    for (const double efficiency : {0.860, 0.922}) {
        const double predicted = per_tonne(grain("sorghum"), efficiency);
        CAPTURE(predicted);
        CHECK(predicted >= low);
        CHECK(predicted <= high);
    }
}

TEST_CASE("spirit yield: maize at the stated efficiencies", "[mash][published]") {
    // Srichuwong et al. 2010: four inbred lines gave 34.3 to 38.0 g ethanol per 100 g dry maize at 86.8 to 90.3 %.
    const std::string ends = "no_cook_fermentation/end_points.csv";
    const double low = row_where(ends, "id", "E18").number("ethanol_value");
    const double high = row_where(ends, "id", "E19").number("ethanol_value");
    for (const char* id : {"E18", "E19"}) {
        const double efficiency = 0.01 * row_where(ends, "id", id).number("yield_percent");
        const double grams = per_tonne_dry(grain("maize"), efficiency) * 0.1 * 0.001 * volume_at_20c::ethanol_density;
        CAPTURE(id, grams);
        CHECK(grams >= low);
        CHECK(grams <= high);
    }
    // Saskatchewan Agriculture and Food 1993: 13.8 % moisture and 71.8 % starch, which can only be dry, give 408 L/t at 91.6 %.
    const double printed = row_where("no_cook_fermentation/stoichiometry_heat_nutrients.csv", "id", "S34").number("value");
    CHECK(std::abs(per_tonne(only(0.718, 0.0, 0.138), 0.916) - printed) <= 0.5);
}

TEST_CASE("spirit yield: barley", "[mash][published]") {
    // Nghiem et al. 2010: 402 L/t dry and 2.17 gal per 53 lb at 15 % moisture are one yield in two units.
    const Row dry = row_where("grain/spirit_yield_measured.csv", "material", "Barley, winter, high starch");
    CHECK(std::abs(gallons_per_bushel(2.17, 53.0) / 0.85 - dry.number("value")) <= 1.0);
    // Saskatchewan Agriculture and Food 1993: 9.7 % moisture, 67.1 % starch dry, 399 L/t at 91.5 %; wheat 10.9 %, 63.8 %, 375 L/t at 91.6 %.
    const std::string practice = "no_cook_fermentation/stoichiometry_heat_nutrients.csv";
    CHECK(std::abs(per_tonne(only(0.671, 0.0, 0.097), 0.915) - row_where(practice, "id", "S33").number("value")) <= 0.5);
    CHECK(std::abs(per_tonne(only(0.638, 0.0, 0.109), 0.916) - row_where(practice, "id", "S36").number("value")) <= 0.5);
}

TEST_CASE("spirit yield: the grain table brackets what was measured", "[mash][published]") {
    // Measured yields lie at 80 to 92 % of the stoichiometric (header of the table of yields). Between these two efficiencies, and within
    // twice the spread of the table's own grain, every measured yield of the five grains must fall; without using the source's own starch.
    struct yield_case {
        const char* grain_name;
        double litres_per_tonne;
        bool dry;
        const char* source;
    };
    const std::string table = "grain/spirit_yield_measured.csv";
    const auto value = [&](const char* material) { return row_where(table, "material", material).number("value"); };
    const auto process = [&](const char* name) { return row_where(table, "process", name).number("value"); };
    const yield_case cases[] = {
        {"hulless oats", value("Oats, hulless"), true, "Thomas & Ingledew 1995"},
        {"hulled oats", value("Oats, hulled"), true, "Thomas & Ingledew 1995"},
        {"wheat", value("Wheat, UK feed"), true, "HGCA Research Review 61, 2006"},
        {"wheat", value("Wheat, hard, Irish"), false, "Morris et al., Irish wheat"},
        {"barley", value("Barley, winter, high starch"), true, "Nghiem et al. 2010"},
        {"maize", gallons_per_bushel(process("wet mill"), 56.0), false, "Bothast & Schlicher 2005"},
        {"maize", gallons_per_bushel(process("official conversion factor"), 56.0), false, "USDA Economic Research Service"},
        {"sorghum", gallons_per_bushel(value("Sorghum, waxy, lowest of 25"), 56.0), false, "Cereal Chemistry 88(6):589"},
        {"sorghum", gallons_per_bushel(value("Sorghum, waxy, highest of 25"), 56.0), false, "Cereal Chemistry 88(6):589"},
    };
    constexpr double least = 0.80;
    constexpr double most = 0.92;
    for (const yield_case& c : cases) {
        const GrainPotential p = tonne(grain(c.grain_name), 1.0, 1.0).bill;
        const Uncertain theory = c.dry ? p.pure_alcohol_l_per_tonne_dry : p.pure_alcohol_l_per_tonne;
        const double spread = 2.0 * theory.standard_uncertainty();
        CAPTURE(c.grain_name, c.source, theory.value(), c.litres_per_tonne, c.litres_per_tonne / theory.value());
        CHECK(c.litres_per_tonne >= least * (theory.value() - spread));
        CHECK(c.litres_per_tonne <= most * (theory.value() + spread));
    }
    // Sharper, for the means alone: all but the best sorghum of 25 (96 % of the mean sorghum's theory) lie between 80 and 92 %.
    int inside = 0;
    for (const yield_case& c : cases) {
        const GrainPotential p = tonne(grain(c.grain_name), 1.0, 1.0).bill;
        const double share = c.litres_per_tonne / (c.dry ? p.pure_alcohol_l_per_tonne_dry : p.pure_alcohol_l_per_tonne).value();
        inside += share >= least && share <= most ? 1 : 0;
    }
    CHECK(inside == 8);
}

TEST_CASE("spirit yield: known disagreements", "[mash][published]") {
    // PLoS ONE 6(7):e22113, Table 1: 372, 396 and 402 L per dry tonne of maize are 70 to 76 % of the theory of 72 % starch, below every process
    // above; as litres per tonne as weighed they would be 81 to 88 %. Recorded, not met.
    const double theory = per_tonne_dry(grain("maize"), 1.0);
    for (const auto& [process, share] : {std::pair{"fermentation, literature value 1", 0.701}, std::pair{"fermentation, literature value 2", 0.746},
                                         std::pair{"fermentation, literature value 3", 0.757}}) {
        const double printed = row_where("grain/spirit_yield_measured.csv", "process", process).number("value");
        CAPTURE(process, printed / theory);
        CHECK(std::abs(printed / theory - share) <= 0.002);
    }
    // US Department of Energy: 172.82 gal per dry short ton of C6 polymer; its gallon of ethanol is 0.5 % light and its ratios are rounded.
    const double gallons = per_tonne(only(1.0, 0.0), 1.0) / kilograms_per_tonne * 2000.0 * pound_kg / us_gallon_l;
    const double printed =
        row_where("grain/spirit_yield_relations.csv", "quantity", "C6 polymer: US gallons ethanol per dry short ton per weight fraction 1").number("value");
    CHECK(std::abs(gallons - 172.55) <= 0.01);
    CHECK(std::abs(printed / gallons - 1.0016) <= 0.0001);
    // Bringhurst et al. 1996: predicted spirit yield = 6.06 L/t per % of fermentable extract, 93.5 % of the stoichiometric 6.48.
    const double factor = row_where("grain/spirit_yield_relations.csv", "unit", "L alcohol per tonne per % fermentable extract").number("value");
    CHECK(std::abs(factor / (0.01 * per_tonne(only(0.0, 1.0), 1.0)) - 0.935) <= 0.0005);
}
