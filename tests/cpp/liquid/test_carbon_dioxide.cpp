#include <cmath>
#include <ferment/core/lanes.hpp>
#include <ferment/liquid/carbon_dioxide.hpp>
#include <string>

#include "fermentation/batches.hpp"

using namespace ferment;
using namespace ferment_test;

namespace {

double balance_value(const char* id) {
    return row_of("stoichiometry_heat_nutrients.csv", id).number("value");
}

}  // namespace

TEST_CASE("carbon dioxide: the limits are those of the published rows", "[liquid][carbon_dioxide][published]") {
    // OSHA and NIOSH (C01, C02), NIOSH (C04), HSE EH40/2005 (C05, C06): exact.
    const auto limit = [](const char* id) { return row_of("co2_safety.csv", id).number("value"); };
    CHECK(carbon_dioxide::limit_8h_ppm == limit("C01"));
    CHECK(carbon_dioxide::limit_8h_ppm == limit("C02"));
    CHECK(carbon_dioxide::limit_8h_ppm == limit("C05"));
    CHECK(carbon_dioxide::limit_8h_ppm < limit("C07"));  // 10000 ppm of 1989 is not in force
    CHECK(carbon_dioxide::dangerous_ppm == limit("C04"));
    CHECK(carbon_dioxide::limit_15min_ppm == limit("C06"));
    CHECK(carbon_dioxide::limit_15min_ppm <= limit("C03"));  // the lower of the two
    CHECK(carbon_dioxide::limit_15min_ppm <= limit("C10"));
}

TEST_CASE("carbon dioxide: saturation", "[liquid][carbon_dioxide]") {
    // From memory, as handbooks of brewing and chemistry give it under one atmosphere of the gas: 3.35 g/kg at 0 degC, 1.69 at 20, 1.45 at 25, 1.26 at
    // 30, 0.97 at 40. The source states 10 %; from 20 to 40 degC the formula is at most 3.2 % high, at 0 degC 8 % low.
    const auto off = [](const double t, const double grams) { return 1000.0 * carbon_dioxide::saturation(t) / grams - 1.0; };
    CHECK(std::abs(1000.0 * carbon_dioxide::saturation(20.0) - 1.69) <= 0.005);
    CHECK(std::abs(off(25.0, 1.45)) <= 0.03);
    CHECK(std::abs(off(30.0, 1.26)) <= 0.03);
    CHECK(std::abs(off(40.0, 0.97)) <= 0.10);
    CHECK(std::abs(off(0.0, 3.35)) <= 0.10);
    // At its reference temperature Henry's constant times one atmosphere and the molar mass.
    const double at_reference = 3.3e-4 * 101325.0 * (12.011 + 2 * 15.999) / 1e6;
    CHECK(std::abs(carbon_dioxide::saturation(25.0) - at_reference) <= 1e-15);
    for (double t = 0.5; t <= 45.0; t += 0.5) CHECK(carbon_dioxide::saturation(t) < carbon_dioxide::saturation(t - 0.5));
    CHECK(std::isnan(carbon_dioxide::saturation(nan_value)));
}

TEST_CASE("carbon dioxide: what stays dissolved", "[liquid][carbon_dioxide]") {
    const double liquid = 80.0;
    for (const double t : {5.0, 20.0, 35.0}) {
        const double full = liquid * carbon_dioxide::saturation(t);
        CHECK(carbon_dioxide::dissolved(0.0, liquid, t) == 0.0);
        double before = 0.0;
        for (double made = 1e-4; made < 20.0; made *= 1.5) {
            const double held = carbon_dioxide::dissolved(made, liquid, t);
            CAPTURE(t, made, held);
            CHECK(held < made);
            CHECK(held <= full);
            CHECK(held >= before);
            before = held;
        }
        // All of the first: the part that leaves is of second order. And all that fits once there is plenty.
        CHECK(std::abs(carbon_dioxide::dissolved(1e-3 * full, liquid, t) / (1e-3 * full) - 1.0) <= 0.5e-3);
        CHECK(std::abs(carbon_dioxide::dissolved(50.0 * full, liquid, t) / full - 1.0) <= 1e-14);
        // Twice the liquid holds twice as much of twice the gas.
        CHECK(std::abs(carbon_dioxide::dissolved(0.4, 2.0 * liquid, t) - 2.0 * carbon_dioxide::dissolved(0.2, liquid, t)) <= 1e-15);
    }
    CHECK(std::isnan(carbon_dioxide::dissolved(nan_value, liquid, 20.0)));
    CHECK(std::isnan(carbon_dioxide::dissolved(1.0, liquid, nan_value)));
    const Lanes made = Lanes::LinSpaced(0.0, 3.5);
    const Lanes held = carbon_dioxide::dissolved(made, Lanes(Lanes::Constant(liquid)), Lanes(Lanes::Constant(20.0)));
    for (Eigen::Index i = 0; i < 8; ++i) CHECK(std::abs(held[i] - carbon_dioxide::dissolved(made[i], liquid, 20.0)) <= 1e-14);
}

TEST_CASE("carbon dioxide: room that the gas takes", "[liquid][carbon_dioxide][published]") {
    // S08, S09: litres of ideal gas for a kg of glucose at 0 and 20 degC, S11 and S12 for a kg of starch at 20 and 30 degC, 1e-4 relative.
    const auto agrees = [](const double litres, const double published) { return std::abs(litres / published - 1.0) <= 1e-4; };
    CHECK(agrees(stoichiometry::co2_per_glucose * carbon_dioxide::litres_per_kg(0.0), balance_value("S08")));
    CHECK(agrees(stoichiometry::co2_per_glucose * carbon_dioxide::litres_per_kg(20.0), balance_value("S09")));
    const double per_starch = stoichiometry::glucose_per_starch * stoichiometry::co2_per_glucose;
    CHECK(agrees(per_starch * carbon_dioxide::litres_per_kg(20.0), balance_value("S11")));
    CHECK(agrees(per_starch * carbon_dioxide::litres_per_kg(30.0), balance_value("S12")));
    // The same from the footnote of the limits, 1 ppm = 1.80 mg/m3 at 25 degC: three digits.
    CHECK(std::abs(1000.0 / carbon_dioxide::litres_per_kg(25.0) - 1.80) <= 0.005);
}

TEST_CASE("ventilation: a room in steady state stays at its limit", "[liquid][carbon_dioxide][identity]") {
    for (const double gas : {0.0, 5.0, 77.0, 4000.0}) {
        for (const double limit : {1000.0, 5000.0, 15000.0, 40000.0}) {
            // What comes in with the air and from the vessel goes out with the air: air (limit - outdoor) = gas.
            const double air = ventilation_m3_per_h(gas, limit);
            CAPTURE(gas, limit, air);
            CHECK(std::abs(air * limit * 1e-6 - (air * 420e-6 + gas * 1e-3)) <= 1e-12 * (1.0 + gas));
        }
    }
    CHECK(ventilation_m3_per_h(77.0) == ventilation_m3_per_h(77.0, 5000.0));
    CHECK(std::abs(ventilation_m3_per_h(100.0) - 0.1 / (4580e-6)) <= 1e-12);  // 21.8 m3/h for 100 L/h
    CHECK(ventilation_m3_per_h(1e9, 1000.0) > 0.0);
}

TEST_CASE("ventilation: out of range, and not a number", "[liquid][carbon_dioxide]") {
    const auto refused = [](const double gas, const double limit) { return message_of<RangeError>([&] { ventilation_m3_per_h(gas, limit); }); };
    CHECK(holds(refused(-1.0, 5000.0), "carbon dioxide -1 L/h is outside 0 to 1000000000 L/h"));
    CHECK(holds(refused(2e9, 5000.0), "carbon dioxide 2000000000 L/h is outside"));
    CHECK(holds(refused(infinite, 5000.0), "carbon dioxide inf L/h"));
    CHECK(holds(refused(10.0, 999.0), "limit 999 ppm is outside 1000 to 40000 ppm"));
    CHECK(holds(refused(10.0, 420.0), "limit 420 ppm"));
    CHECK(holds(refused(10.0, 40001.0), "limit 40001 ppm"));
    CHECK(std::isnan(ventilation_m3_per_h(nan_value)));
    CHECK(std::isnan(ventilation_m3_per_h(10.0, nan_value)));
}
