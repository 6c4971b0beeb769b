#include <cmath>
#include <ferment/still/packing.hpp>
#include <string>
#include <vector>

#include "../liquid/checks.hpp"

using ferment::column_capacity;
using ferment::InputError;
using ferment::kilopascal;
using ferment::packing_table;
using ferment::percent_mass;
using ferment::plates_of_packing;
using ferment::RangeError;
using ferment::robbins_1991;
using ferment::stichlmair_1989;
using namespace ferment_test;

namespace {

const Row& check_named(const std::vector<Row>& rows, const std::string& name) {
    for (const Row& row : rows) {
        if (row.text("correlation") == name) return row;
    }
    throw std::runtime_error("no row " + name);
}

constexpr stichlmair_1989::bed saddle = stichlmair_1989::berl_saddle_25mm;

}  // namespace

// Worked example of the paper, as recomputed by an open library of fluid mechanics; half of the last printed digit.
TEST_CASE("packing: Stichlmair 1989, worked example", "[still][packing][published]") {
    const std::vector<Row> rows = read_table("distillation/packing_hydraulics_checks.csv");
    const Row& dry = check_named(rows, "Stichlmair dry pressure drop");
    const Row& wet = check_named(rows, "Stichlmair irrigated");
    const Row& flood = check_named(rows, "Stichlmair flooding gas velocity");
    CHECK(saddle.void_fraction == wet.number("void"));
    CHECK(saddle.surface == wet.number("size"));
    const stichlmair_1989::fluids f{wet.number("gas_density"), wet.number("gas_viscosity"), wet.number("liquid_density")};
    CHECK(std::abs(stichlmair_1989::dry(saddle, f, dry.number("gas")) - dry.number("value")) <= 0.005);
    CHECK(std::abs(stichlmair_1989::wetted(saddle, f, wet.number("gas"), wet.number("liquid")) - wet.number("value")) <= 0.005);
    const double liquid = flood.number("liquid");
    CHECK(std::abs(stichlmair_1989::flooding_velocity(saddle, f, [&](double) { return liquid; }) - flood.number("value")) <= 0.000005);
}

// Worked example of Perry as recomputed: 619.66 Pa; here 619.79, 0.02 % more, by the units of water and foot that each of the two takes. Four figures agree.
TEST_CASE("packing: Robbins 1991, worked example", "[still][packing][published]") {
    const std::vector<Row> rows = read_table("distillation/packing_hydraulics_checks.csv");
    const Row& row = check_named(rows, "Robbins");
    const double per_metre =
        robbins_1991::pressure_drop(row.number("size"), row.number("gas"), row.number("liquid"), row.number("gas_density"), row.number("liquid_density"), 1.0);
    CHECK(std::abs(per_metre * row.number("height") / row.number("value") - 1.0) <= 3e-4);
}

TEST_CASE("packing: the table is the published one", "[still][packing][published]") {
    const std::vector<Row> rows = read_table("distillation/packing_data.csv");
    REQUIRE(rows.size() == packing_table.size());
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const Row& row = rows[i];
        const ferment::PackingData& p = packing_table[i];
        CAPTURE(row.line());
        CHECK(row.text("packing") == p.name);
        CHECK(row.number("size_mm") == p.size_mm);
        CHECK(std::abs(row.number("void_pct") / 100.0 - p.void_fraction) <= 1e-15);
        CHECK(row.number("a_m2_m3") == p.surface_m2_m3);
        if (row.has("F_per_ft")) {
            CHECK(row.number("F_per_ft") == p.factor_per_ft);
        } else {
            CHECK(std::isnan(p.factor_per_ft));
        }
    }
    const std::vector<Row> hetp = read_table("distillation/hetp_published.csv");
    REQUIRE(hetp.size() == 1);
    CHECK(std::stod(hetp[0].text("HETP_m")) == ferment::hetp_of_two_inch_pall_ring_m);
}

TEST_CASE("packing: flooding is where the wetted pressure drop ends", "[still][packing]") {
    const stichlmair_1989::fluids f{1.4, 1.05e-5, 800.0};
    const auto reflux = [&](const double v) { return v * f.gas_density / f.liquid_density; };
    const double flood = stichlmair_1989::flooding_velocity(saddle, f, reflux);
    CHECK(std::isfinite(stichlmair_1989::wetted(saddle, f, 0.9999 * flood, reflux(0.9999 * flood))));
    CHECK(std::isnan(stichlmair_1989::wetted(saddle, f, 1.0001 * flood, reflux(1.0001 * flood))));
    double before = 0.0;
    for (const double share : {0.1, 0.3, 0.5, 0.7, 0.9, 0.99}) {
        const double v = share * flood;
        const double wet = stichlmair_1989::wetted(saddle, f, v, reflux(v));
        CAPTURE(share, wet);
        CHECK(wet > stichlmair_1989::dry(saddle, f, v));
        CHECK(wet > before);
        before = wet;
    }
    // The equation itself, put together again from its parts.
    const double v = 0.8 * flood;
    const double p = stichlmair_1989::wetted(saddle, f, v, reflux(v));
    const double head = p / (f.liquid_density * stichlmair_1989::gravity);
    const double e = saddle.void_fraction;
    const double h = stichlmair_1989::hold_up(saddle, reflux(v)) * (1.0 + 20.0 * head * head);
    const double c = stichlmair_1989::factor(saddle, f, v).exponent;
    const double again = stichlmair_1989::dry(saddle, f, v) * std::pow((1.0 - e + h) / (1.0 - e), (2.0 + c) / 3.0) * std::pow(e / (e - h), 4.65);
    CHECK(std::abs(again / p - 1.0) <= 1e-11);
    // Vanishing liquid leaves the dry bed.
    CHECK(std::abs(stichlmair_1989::wetted(saddle, f, v, 1e-15) / stichlmair_1989::dry(saddle, f, v) - 1.0) <= 1e-6);
}

TEST_CASE("packing: the flooding velocity is the last one that can be wetted, for every packing and load", "[still][packing]") {
    for (const ferment::PackingData& packing : packing_table) {
        // The friction constants of the saddle stand for all; only the solution is tested here.
        const stichlmair_1989::bed bed{packing.void_fraction, packing.surface_m2_m3, saddle.c1, saddle.c2, saddle.c3};
        for (const double ratio : {0.0002, 0.002, 0.02}) {
            const stichlmair_1989::fluids f{1.0, 1.05e-5, 800.0};
            const auto liquid = [&](const double v) { return ratio * v; };
            const double flood = stichlmair_1989::flooding_velocity(bed, f, liquid);
            CAPTURE(packing.name, packing.size_mm, ratio, flood);
            CHECK(std::isfinite(stichlmair_1989::wetted(bed, f, flood * (1.0 - 1e-6), liquid(flood * (1.0 - 1e-6)))));
            CHECK(std::isnan(stichlmair_1989::wetted(bed, f, flood * (1.0 + 1e-6), liquid(flood * (1.0 + 1e-6)))));
        }
    }
}

TEST_CASE("packing: capacity goes with the cross-section and the share of flooding", "[still][packing]") {
    const auto at = 101.325 * kilopascal;
    const auto small = column_capacity(0.05, saddle, 92.0 * percent_mass, at, 0.75);
    const auto wide = column_capacity(0.10, saddle, 92.0 * percent_mass, at, 0.75);
    CHECK(std::abs(wide.boil_up_kw / small.boil_up_kw - 4.0) <= 1e-12);
    CHECK(std::abs(small.boil_up_kw / small.flooding_kw - 0.75) <= 1e-12);
    // Weak vapour is lighter but carries more heat per kg: the foot takes more kW.
    CHECK(column_capacity(0.05, saddle, 50.0 * percent_mass, at, 0.75).boil_up_kw > small.boil_up_kw);
    // A thin vapour at low pressure floods at less heat.
    CHECK(column_capacity(0.05, saddle, 92.0 * percent_mass, 40.0 * kilopascal, 0.75).boil_up_kw < small.boil_up_kw);
    // Gas factor at flooding: 2 to 3 Pa^0.5 for 25 mm are usual (common practice, no source); of a saddle the low end.
    const double factor = small.flooding_m_per_s * std::sqrt(small.vapour_density);
    CHECK(factor > 1.2);
    CHECK(factor < 3.0);
    // Heat and flow agree through the latent heat.
    const double t = ferment::dew_point(92.0 * percent_mass, at).temperature.value();
    CHECK(std::abs(small.boil_up_kg_per_h / 3600.0 * ferment::spirit_heat::latent_heat(0.92, t) / 1000.0 / small.boil_up_kw - 1.0) <= 1e-12);
}

TEST_CASE("packing: plates and refusals", "[still][packing]") {
    CHECK(std::abs(plates_of_packing(1.8, 0.3) - 6.0) <= 1e-14);
    check_refused([] { plates_of_packing(0.0, 0.3); }, "packed height 0 m must be more than 0 m");
    CHECK_THROWS_AS(plates_of_packing(1.0, not_a_number), InputError);
    const auto at = 101.325 * kilopascal;
    CHECK_THROWS_AS(column_capacity(not_a_number, saddle, 92.0 * percent_mass, at, 0.75), InputError);
    check_refused([&] { column_capacity(-0.1, saddle, 92.0 * percent_mass, at, 0.75); }, "diameter -0.1 m must be more than 0 m");
    check_refused([&] { column_capacity(0.1, saddle, 92.0 * percent_mass, at, 1.0); }, "share of flooding 100 % is outside 0 to 100 %");
    check_refused([&] { column_capacity(0.1, saddle, 101.0 * percent_mass, at, 0.75); }, "vapour strength 101 % mass is outside 0 to 100 % mass");
    check_refused([&] { column_capacity(0.1, saddle, 92.0 * percent_mass, 10.0 * kilopascal, 0.75); }, "pressure 10 kPa is outside 20 to 110 kPa");
    stichlmair_1989::bed solid = saddle;
    solid.void_fraction = 0.0;
    CHECK_THROWS_AS(column_capacity(0.1, solid, 92.0 * percent_mass, at, 0.75), RangeError);
}

TEST_CASE("packing: whole plates, whatever round-off makes of the division", "[still][packing]") {
    CHECK(ferment::whole_plates_of_packing(0.6, 0.2) == 3);
    CHECK(ferment::whole_plates_of_packing(0.59, 0.2) == 2);
    CHECK(ferment::whole_plates_of_packing(0.1, 0.2) == 0);
    CHECK_THROWS_AS(ferment::whole_plates_of_packing(1e6, 0.2), RangeError);
}
