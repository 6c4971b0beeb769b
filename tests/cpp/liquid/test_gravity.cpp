#include <algorithm>
#include <ferment/liquid/gravity.hpp>
#include <ferment/liquid/water.hpp>

#include "checks.hpp"

using ferment::degree_celsius;
using ferment::degree_plato;
using ferment::gravity_frame;
using ferment::icumsa_sps4;
using ferment::kilogram_per_cubic_metre;
using ferment::sg_20_20;
using ferment::wort_gravity;
using namespace ferment_test;

namespace {

constexpr double air = ferment::conventional_air_density;

double sg_in_air(const double plato) {
    return ferment::gravity_from_extract<>(plato * degree_plato, air).value();
}
double sg(const double plato) {
    return ferment::sg_from_plato(plato * degree_plato).value();
}
double plato(const double gravity) {
    return ferment::value_in(ferment::plato_from_sg(gravity * sg_20_20), degree_plato);
}
/// Grams in a litre at the sample temperature of a wort of a given true gravity.
template <class Reference>
double grams_per_litre(const ferment::gravity<Reference>& gravity) {
    return ferment::extract_per_litre(ferment::extract_from_gravity<Reference>(gravity), Reference::sample_c * degree_celsius).value();
}

/// Every pair of reference temperatures of the library, true and in air.
constexpr gravity_frame frames[] = {
    ferment::frame_of<ferment::at_20_20>(),      ferment::frame_of<ferment::at_15_15>(),    ferment::frame_of<ferment::at_60f_60f>(),
    ferment::frame_of<ferment::at_20_4>(),       ferment::frame_of<ferment::at_20_20>(air), ferment::frame_of<ferment::at_15_15>(air),
    ferment::frame_of<ferment::at_60f_60f>(air), ferment::frame_of<ferment::at_20_4>(air),
};

/// Largest difference of a published conversion S -> percent over a span of extract, S the gravity in air.
template <class F>
double largest_difference(const F& published, const double from, const double to) {
    Worst worst;
    constexpr int steps = 1000;
    for (int i = 0; i <= steps; ++i) {
        const double percent = from + (to - from) * i / steps;
        worst.add(published(sg_in_air(percent)) - percent);
    }
    return worst.value;
}

}  // namespace

TEST_CASE("gravity: published conversion polynomials, gravity 20/20 weighed in air", "[liquid][gravity][published]") {
    // NBS: fit to the table of NBS Circular 440 (Bates 1942). ASBC: fit to the ASBC extract table. Lincoln (1987). As quoted, with the largest
    // differences from the sucrose polynomial, in sugar_solutions/conversion_polynomials.csv. Differences are stated to three (two) decimals.
    const auto nbs = [](const double s) { return 182.4601 * s * s * s - 775.6821 * s * s + 1262.7794 * s - 669.5622; };
    const auto asbc = [](const double s) { return 135.997 * s * s * s - 630.272 * s * s + 1111.14 * s - 616.868; };
    const auto lincoln = [](const double s) { return (463.0 - 205.0 * s) * (s - 1.0); };
    constexpr double three_decimals = 0.0005;
    constexpr double two_decimals = 0.005;
    CHECK(largest_difference(nbs, 0.0, 20.0) <= 0.012 + three_decimals);
    CHECK(largest_difference(nbs, 0.0, 30.0) <= 0.018 + three_decimals);
    CHECK(largest_difference(nbs, 0.0, 40.0) <= 0.022 + three_decimals);
    CHECK(largest_difference(asbc, 0.0, 30.0) <= 0.011 + three_decimals);
    CHECK(largest_difference(asbc, 0.0, 40.0) <= 0.087 + three_decimals);
    CHECK(largest_difference(lincoln, 0.0, 20.0) <= 0.010 + three_decimals);
    CHECK(largest_difference(lincoln, 0.0, 30.0) <= 0.085 + three_decimals);
    CHECK(largest_difference(lincoln, 0.0, 40.0) <= 0.41 + two_decimals);
}

TEST_CASE("gravity: the formulas of the table of conversion polynomials are those tested here", "[liquid][gravity][published]") {
    std::size_t found = 0;
    for (const Row& row : read_table("sugar_solutions/conversion_polynomials.csv")) {
        const std::string name = row.text("name");
        const std::string formula = row.text("formula");
        if (name == "NBS") found += formula == "182.4601*S^3 - 775.6821*S^2 + 1262.7794*S - 669.5622";
        if (name == "ASBC") found += formula == "135.997*S^3 - 630.272*S^2 + 1111.14*S - 616.868";
        if (name == "Lincoln") found += formula == "(463 - 205*S)*(S - 1)";
    }
    CHECK(found == 3);
}

TEST_CASE("gravity: true and in air are different scales", "[liquid][gravity][published]") {
    // Printed to five decimals beside each other: 1.03998 and 1.04003 at 10 %, 1.08292 and 1.08302 at 20 %.
    constexpr double fifth_decimal = 0.5e-5;
    CHECK(std::abs(sg(10.0) - 1.03998) <= fifth_decimal);
    CHECK(std::abs(sg_in_air(10.0) - 1.04003) <= fifth_decimal);
    CHECK(std::abs(sg(20.0) - 1.08292) <= fifth_decimal);
    CHECK(std::abs(sg_in_air(20.0) - 1.08302) <= fifth_decimal);
}

TEST_CASE("gravity: total dry extract in g/L from gravity 20/20, OIV-MA-AS2-03B", "[liquid][gravity][published]") {
    Worst worst;
    for (const Row& row : read_table("sugar_solutions/total_dry_extract_from_specific_gravity.csv")) {
        worst.add(grams_per_litre<ferment::at_20_20>(row.number("specific_gravity_20_20") * sg_20_20) - row.number("extract_g_L"), row.line());
    }
    CAPTURE(worst.line);
    CHECK(worst.value <= 0.25);
}

TEST_CASE("gravity: total extract worked example of GOST 14251, gravity 20/20", "[liquid][gravity][published]") {
    // 1.1046 -> 27.15 (of 1.104) + 0.16 = 27.31 g/100 mL; the polynomial has 27.17 and 27.33, 0.02 more: 0.25 g/L as in the table above.
    constexpr double g_per_100ml = 10.0;
    CHECK(std::abs(grams_per_litre<ferment::at_20_20>(1.104 * sg_20_20) / g_per_100ml - 27.15) <= 0.025);
    CHECK(std::abs(grams_per_litre<ferment::at_20_20>(1.1046 * sg_20_20) / g_per_100ml - 27.31) <= 0.025);
}

TEST_CASE("gravity: extract in g/100 mL from gravity 15/15, data of the German standards commission 1900", "[liquid][gravity][published]") {
    constexpr double g_per_100ml = 10.0;
    Worst worst;
    for (const Row& row : read_table("sugar_solutions/extract_wine_1900_specific_gravity_15_15.csv")) {
        const auto gravity = row.number("specific_gravity_15_15") * ferment::sg_15_15;
        worst.add(grams_per_litre<ferment::at_15_15>(gravity) / g_per_100ml - row.number("extract_g_100mL"), row.line());
    }
    CAPTURE(worst.line);
    CHECK(worst.value <= 0.015);
}

TEST_CASE("gravity: percentage of cane sugar from specific weight 15/15, nineteenth century", "[liquid][gravity][published]") {
    Worst worst;
    for (const Row& row : read_table("sugar_solutions/cane_sugar_specific_weight_19c.csv")) {
        const double percent = row.number("mass_pct");
        if (percent > 70.0) {
            CHECK_THROWS_AS(ferment::gravity_from_extract<ferment::at_15_15>(percent * degree_plato), ferment::RangeError);
            continue;
        }
        worst.add(ferment::gravity_from_extract<ferment::at_15_15>(percent * degree_plato).value() - row.number("specific_weight"), row.line());
    }
    CAPTURE(worst.line);
    CHECK(worst.value <= 3e-4);
}

TEST_CASE("gravity: every frame converts back exactly over the whole range, and rises with extract", "[liquid][gravity][identity]") {
    for (const gravity_frame& frame : frames) {
        Worst worst;
        bool rising = true;
        for (int i = 0; i <= 1400; ++i) {
            const double w = std::min(0.0005 * i, 0.70);
            const double gravity = wort_gravity::from_extract(w, frame);
            worst.add(wort_gravity::extract(gravity, frame) - w);
            if (i > 0) rising = rising && gravity > wort_gravity::from_extract(0.0005 * (i - 1), frame);
        }
        CAPTURE(frame.sample_c, frame.water_c, frame.air);
        CHECK(worst.value <= round_trip);
        CHECK(rising);
    }
}

TEST_CASE("gravity: any pair of references converts through density, there and back", "[liquid][gravity][identity]") {
    Worst worst;
    for (const gravity_frame& from : frames) {
        for (const gravity_frame& to : frames) {
            for (int percent = 0; percent <= 69; percent += 3) {
                const double start = wort_gravity::from_extract(percent / 100.0, from);
                const double other = wort_gravity::from_extract(wort_gravity::extract(start, from), to);
                worst.add(wort_gravity::from_extract(wort_gravity::extract(other, to), from) - start);
            }
        }
    }
    CHECK(worst.value <= round_trip);
}

TEST_CASE("gravity: typed doors are the frames", "[liquid][gravity][identity]") {
    const auto wort = 12.0 * degree_plato;
    CHECK(ferment::gravity_from_extract<ferment::at_15_15>(wort).value() == icumsa_sps4::density(wort.value(), 15.0) / icumsa_sps4::water(15.0));
    CHECK(ferment::gravity_from_extract<ferment::at_20_4>(wort).value() == icumsa_sps4::density(wort.value(), 20.0) / icumsa_sps4::water(4.0));
    CHECK(same(ferment::gravity_from_extract<ferment::at_60f_60f>(wort, air).value(),
               (icumsa_sps4::density(wort.value(), ferment::sixty_fahrenheit_c) - air) / (icumsa_sps4::water(ferment::sixty_fahrenheit_c) - air)));
    CHECK(std::abs(plato(sg(12.0)) - 12.0) <= 1e-8);
    const auto gravity = ferment::gravity_from_extract<ferment::at_60f_60f>(wort, air);
    CHECK(std::abs(ferment::extract_from_gravity<ferment::at_60f_60f>(gravity, air).value() - 0.12) <= round_trip);
    CHECK(sg(0.0) == 1.0);
    CHECK(sg_in_air(0.0) == 1.0);
    CHECK(plato(1.0) == 0.0);
}

TEST_CASE("gravity: density, points, grams per litre and air, there and back", "[liquid][gravity][identity]") {
    Worst rho;
    Worst in_air;
    Worst points;
    Worst grams;
    for (double percent = 0.0; percent <= 69.0; percent += 1.0) {
        for (const double t : {0.0, 20.0, 80.0}) {
            const auto w = percent * degree_plato;
            const auto per_litre = ferment::extract_per_litre(w, t * degree_celsius);
            CHECK(same(per_litre.value(), w.value() * icumsa_sps4::density(w.value(), t)));
            grams.add((ferment::extract_from_per_litre(per_litre, t * degree_celsius) - w).value());
        }
        const auto density = ferment::sucrose_density(percent * degree_plato, 20.0 * degree_celsius);
        rho.add(ferment::density_from_sg<ferment::at_20_20>(ferment::sg_from_density(density, air), air).value() / density.value() - 1.0);
        in_air.add(ferment::density_in_vacuum(ferment::density_in_air(density)).value() / density.value() - 1.0);
        points.add((ferment::sg_from_points(ferment::points_from_sg(sg(percent) * sg_20_20))).value() - sg(percent));
    }
    CHECK(rho.value <= 1e-14);
    CHECK(in_air.value <= 1e-14);
    CHECK(points.value <= 1e-14);
    CHECK(grams.value <= round_trip);
    CHECK(std::abs(ferment::points_from_sg(1.048 * sg_20_20) - 48.0) <= 1e-12);
    CHECK(ferment::density_in_air(1000.0 * kilogram_per_cubic_metre, 0.0).value() == 1000.0);
    // Conventional weighing of water: 998.8 kg/m3 of balance in 1 - 1.2/8000.
    CHECK(std::abs(ferment::density_in_air(1000.0 * kilogram_per_cubic_metre).value() - 998.8 / 0.99985) <= 1e-9);
}

TEST_CASE("gravity: both ends belong to the range, the next number beyond does not", "[liquid][gravity][edges]") {
    for (const gravity_frame& frame : frames) {
        const ferment::num::interval range = wort_gravity::range(frame);
        CAPTURE(frame.sample_c, frame.water_c, frame.air, range.lower, range.upper);
        // The gravity rounds the density, so the ends come back to round-off only; they must not be lost.
        CHECK(std::abs(ferment::detail::extract_from_gravity(range.lower, frame)) <= round_trip);
        CHECK(std::abs(ferment::detail::extract_from_gravity(range.upper, frame) - 0.70) <= round_trip);
        for (const double outside : {below(range.lower), above(range.upper), infinity, -infinity}) {
            CHECK_THROWS_AS(ferment::detail::extract_from_gravity(outside, frame), ferment::RangeError);
        }
        for (const double outside : {range.lower - 1e-6, range.upper + 1e-6, infinity, -infinity}) {
            CHECK(std::isnan(wort_gravity::extract(outside, frame)));
        }
        CHECK(std::isnan(ferment::detail::extract_from_gravity(not_a_number, frame)));
        CHECK(std::isnan(ferment::detail::gravity_from_extract(not_a_number, frame)));
        CHECK(std::isnan(wort_gravity::from_extract(below(0.0), frame)));
        CHECK_THROWS_AS(ferment::detail::gravity_from_extract(below(0.0), frame), ferment::RangeError);
        CHECK_THROWS_AS(ferment::detail::gravity_from_extract(above(icumsa_sps4::extract_range.upper), frame), ferment::RangeError);
        CHECK(ferment::detail::gravity_from_extract(-0.0, frame) == ferment::detail::gravity_from_extract(0.0, frame));
    }
    CHECK(std::isfinite(sg(70.0)));
}

TEST_CASE("gravity: grams per litre, both ends and beyond", "[liquid][gravity][edges]") {
    const double most = wort_gravity::grams_per_litre(icumsa_sps4::extract_range.upper, 20.0);
    const auto inverse = [](const double grams, const double t) {
        return ferment::extract_from_per_litre(grams * ferment::gram_per_litre, t * degree_celsius).value();
    };
    CHECK(inverse(0.0, 20.0) == 0.0);
    CHECK(inverse(-0.0, 20.0) == 0.0);
    CHECK(inverse(most, 20.0) == icumsa_sps4::extract_range.upper);
    for (const double outside : {below(0.0), above(most), infinity, -infinity}) {
        CAPTURE(outside);
        CHECK_THROWS_AS(inverse(outside, 20.0), ferment::RangeError);
        CHECK(std::isnan(wort_gravity::extract_from_grams_per_litre(outside, 20.0)));
    }
    for (const double t : {below(0.0), above(80.0), infinity}) {
        CAPTURE(t);
        CHECK_THROWS_AS(inverse(100.0, t), ferment::RangeError);
        CHECK_THROWS_AS(ferment::extract_per_litre(10.0 * degree_plato, t * degree_celsius), ferment::RangeError);
        CHECK(std::isnan(wort_gravity::extract_from_grams_per_litre(100.0, t)));
    }
    CHECK(std::isnan(inverse(not_a_number, 20.0)));
    CHECK(std::isnan(inverse(100.0, not_a_number)));
    CHECK(std::isnan(ferment::extract_per_litre(not_a_number * degree_plato, 20.0 * degree_celsius).value()));
}

TEST_CASE("gravity: NaN passes through the algebra", "[liquid][gravity][edges]") {
    CHECK(std::isnan(plato(not_a_number)));
    CHECK(std::isnan(sg(not_a_number)));
    CHECK(std::isnan(ferment::points_from_sg(not_a_number * sg_20_20)));
    CHECK(std::isnan(ferment::sg_from_points(not_a_number).value()));
    CHECK(std::isnan(ferment::density_in_air(not_a_number * kilogram_per_cubic_metre).value()));
    CHECK(std::isnan(ferment::sg_from_density(not_a_number * kilogram_per_cubic_metre).value()));
}

TEST_CASE("gravity: the errors name quantity, value, unit and range", "[liquid][gravity][edges]") {
    check_refused([] { plato(0.99); }, "gravity 0.99 is outside 1 to 1.3499");
    check_refused([] { sg(71.0); }, "extract 71 % mass is outside 0 to 70 % mass (ICUMSA SPS-4");
    check_refused([] { ferment::extract_from_per_litre(2000.0 * ferment::gram_per_litre, 20.0 * degree_celsius); },
                  "extract per litre 2000 g/L is outside 0 to 94");
}

TEST_CASE("gravity: eight lanes give what eight scalars give", "[liquid][gravity][lanes]") {
    const Eight w{0.0, 0.05, 0.12, 0.30, 0.70, -0.01, 0.71, not_a_number};
    const Eight gravity{1.0, 1.02, 1.048, 1.1, 1.3, 0.99, 1.4, not_a_number};
    const Eight grams{0.0, 50.0, 125.0, 300.0, 900.0, -1.0, 1000.0, not_a_number};
    const Eight t{0.0, 20.0, 15.0, 60.0, 20.0, 20.0, 20.0, 20.0};
    for (const gravity_frame& frame : frames) {
        check_lanes([&frame](const auto& x) { return wort_gravity::from_extract(x, frame); }, w);
        check_lanes([&frame](const auto& x) { return wort_gravity::extract(x, frame); }, gravity);
    }
    check_lanes([](const auto& x, const auto& y) { return wort_gravity::grams_per_litre(x, y); }, w, t);
    check_lanes([](const auto& x, const auto& y) { return wort_gravity::extract_from_grams_per_litre(x, y); }, grams, t);
}
