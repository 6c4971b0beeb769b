#include <cmath>
#include <ferment/fermentation/end_point.hpp>
#include <ferment/mash/grain_table.hpp>
#include <string>

#include "catch.hpp"
#include "csv.hpp"

using namespace ferment;
using ferment_test::read_table;
using ferment_test::Row;

namespace {

Row row_where(const std::string& table, const std::string& column, const std::string& value) {
    for (const Row& row : read_table(table)) {
        if (row.text(column) == value) return row;
    }
    throw std::runtime_error(table + " has no row " + value);
}

double end_point_percent(const char* id) {
    return row_where("no_cook_fermentation/end_points.csv", "id", id).number("yield_percent");
}

double balance_value(const char* id) {
    return row_where("no_cook_fermentation/stoichiometry_heat_nutrients.csv", "id", id).number("value");
}

}  // namespace

TEST_CASE("no cook: the numbers are those of the published rows", "[fermentation][published]") {
    const auto same = [](const double share, const double percent) { return std::abs(100.0 * share - percent) <= 1e-12 * percent; };
    CHECK(same(no_cook::overall_rows[0].value, end_point_percent("E01")));
    CHECK(row_where("grain/spirit_yield_measured.csv", "material", "Rice, broken").text("starch_or_other_percent") == "83.2 % of theoretical");
    CHECK(same(no_cook::overall_rows[1].value, 83.2));
    CHECK(same(no_cook::overall_rows[2].value, end_point_percent("E03")));
    CHECK(row_where("no_cook_fermentation/end_points.csv", "id", "E05").text("yield_percent") == "72.3-83.5");
    CHECK(same(no_cook::overall_rows[3].value, 77.9));
    CHECK(same(no_cook::overall_rows[4].value, end_point_percent("E10")));
    CHECK(same(no_cook::overall_rows[5].value, end_point_percent("E23")));
    CHECK(same(no_cook::efficiency_rows[0].value * stoichiometry::ethanol_per_glucose, balance_value("S14")));
    CHECK(same(1.0 - no_cook::efficiency_rows[1].value, 100.0 * balance_value("S20")));
    CHECK(same(no_cook::conversion_rows[0].value, end_point_percent("E12")));
    CHECK(same(no_cook::conversion_rows[1].value, end_point_percent("E20")));
    CHECK(residue::glycerol == balance_value("S16"));
    CHECK(residue::succinic_acid == balance_value("S17"));
    CHECK(residue::other == balance_value("S18"));
}

TEST_CASE("no cook: mean and spread, nothing counted twice", "[fermentation]") {
    const measured overall = no_cook::overall();
    const measured efficiency = no_cook::fermentation_efficiency();
    const measured conversion = no_cook::conversion();
    CHECK(std::abs(overall.value - 0.8483) <= 0.0001);
    CHECK(std::abs(overall.standard_uncertainty - 0.0397) <= 0.0001);
    CHECK(std::abs(efficiency.value - 0.9593) <= 0.0001);
    CHECK(std::abs(efficiency.standard_uncertainty - 0.0150) <= 0.0001);
    // The product has the published mean and spread.
    const Uncertain product = conversion.as_input("conversion") * efficiency.as_input("efficiency");
    CHECK(std::abs(product.value() - overall.value) <= 1e-15);
    CHECK(std::abs(product.standard_uncertainty() - overall.standard_uncertainty) <= 1e-12);
    // Conversions published by themselves (Han 1987, Cripwell 2019, Viktor 2013) average 87.3 %, spread 4.5: 0.2 of it from the quotient.
    const measured direct = mean_and_spread(no_cook::conversion_rows);
    CHECK(std::abs(direct.value - conversion.value) <= direct.standard_uncertainty);
    CHECK(std::abs(direct.value - 0.8733) <= 0.0001);
    // Cooked maize under the same conditions gave 89.9 against 89.6 % of theory (Weller et al. 1984): no-cook costs no yield.
    CHECK(std::abs(end_point_percent("E11") - end_point_percent("E10")) < 0.5);
}

TEST_CASE("end point: broken rice at very high gravity", "[fermentation][published]") {
    // Chu-Ky et al. 2016: 311.5 g of dry matter per litre, 86.3 % of theory, 17.6 % vol. The abstract gives no composition and does not say
    // what the litre is of (mash here). The table's broken rice (83.3 % starch dry): 17.6 within the 0.5 % vol that the rows support.
    const Grain rice = grain("broken rice");
    const double grain_kg = 0.3115 / (1.0 - rice.moisture.value);
    const double displaced = 0.687 * grain_kg;  // L; the litre of mash holds the grain as well
    const double water = (1.0 - displaced) * 0.9982;
    Bill bill;
    bill.add(rice, grain_kg * kilogram);
    const double efficiency = no_cook::fermentation_efficiency().value;
    const Potential p = potential(bill, water * kilogram, {{0.863 / efficiency, 0.0}, {efficiency, 0.0}, {0.2, 0.08}});
    const EndPoint end = end_point(p);
    CAPTURE(end.abv.value(), end.abv.standard_uncertainty());
    CHECK(std::abs(100.0 * end.abv.value() - 17.6) <= 0.5);
}

TEST_CASE("end point: dry washes of common bills end below water", "[fermentation]") {
    for (const char* name : {"hulless oats", "flaked oats", "wheat", "rye", "barley", "maize", "flaked maize", "flaked rice", "sorghum", "white sugar"}) {
        Bill bill;
        bill.add(grain(name), 10.0 * kilogram);
        const EndPoint end = end_point(potential(bill, 35.0 * kilogram, no_cook::assumptions()));
        CAPTURE(name, end.gravity.value(), end.abv.value());
        CHECK(end.gravity.value() < 1.0);
        CHECK(end.gravity.value() > 0.98);
        CHECK(end.gravity.standard_uncertainty() > 0.0005);
        CHECK(end.abv.value() > 0.06);
        CHECK(end.abv.value() < 0.17);
        CHECK(std::abs(end.abv.value() * end.wash_volume_l.value() - end.pure_alcohol_l.value()) <= 1e-12 * end.pure_alcohol_l.value());
        CHECK(std::abs(end.abw.value() * end.wash_kg.value() - end.ethanol_kg.value()) <= 1e-12);
        CHECK(std::abs(wash::gravity_20_20(end.abw.value(), end.real_extract.value()) - end.gravity.value()) <= 1e-15);
    }
}

TEST_CASE("end point: agrees with the expected yield and with the starch left", "[fermentation][identity]") {
    Bill bill;
    bill.add(grain("rye"), 10.0 * kilogram).add(grain("barley malt"), 1.0 * kilogram);
    const Potential p = potential(bill, 35.0 * kilogram, no_cook::assumptions());
    const EndPoint end = end_point(p);
    CHECK((end.ethanol_kg - p.expected.ethanol_kg).value() == 0.0);
    CHECK((end.ethanol_kg - p.expected.ethanol_kg).standard_uncertainty() <= 1e-15);
    CHECK((end.co2_kg - p.expected.co2_kg).value() == 0.0);
    CHECK(std::abs((end.starch_left_kg + p.expected.starch_converted_kg - p.masses.starch).value()) <= 1e-14);
    CHECK_THROWS_AS(end_point(p, {1.5, 0.1}), RangeError);
    CHECK_THROWS_AS(end_point(p, {0.7, -0.1}), InputError);
}
