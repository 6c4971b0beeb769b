#include <cmath>
#include <cstddef>
#include <ferment/fermentation/inoculum.hpp>
#include <ferment/fermentation/simulate.hpp>
#include <ferment/fermentation/vessel.hpp>
#include <numbers>
#include <string>
#include <vector>

#include "batches.hpp"

using namespace ferment;
using namespace ferment_test;

namespace {

constexpr double day = 24.0;

/// The inoculum of a batch as the check sees it.
std::string inoculum_refused(const Inoculum& inoculum) {
    const std::string range = message_of<RangeError>([&] { trade_batch(steady(20.0), inoculum); });
    return holds(range, "another error") ? message_of<InputError>([&] { trade_batch(steady(20.0), inoculum); }) : range;
}

std::string conditions_refused(const Conditions& c) {
    const std::string range = message_of<RangeError>([&] { trade_batch(c); });
    return holds(range, "another error") ? message_of<InputError>([&] { trade_batch(c); }) : range;
}

Conditions with(const double mash_c, const Vessel& vessel) {
    return {mash_c, Ambient::constant(20.0), vessel};
}

/// The temperature of a mash whose yeast takes nothing up: only air, wall and sun act.
std::vector<double> temperatures(const Conditions& c, const std::vector<double>& hours) {
    kinetic_values<double> z{};
    z[kinetic::uptake_rate] = far_down;  // exp(-50) of the median
    ode::Tolerance close;
    close.relative = 1e-11;
    close.absolute = 1e-12;
    const Fermentation f = trade_batch(c);
    std::vector<double> found;
    for (const WashState& s : simulate(f, hours, z, close).at) found.push_back(s.temperature_c);
    return found;
}

/// kJ/K of the trade batch, from its masses: 4.186 kJ/(kg K) of water, 0.38 of it for dry grain.
double capacity(const Fermentation& f) {
    double moisture = 0.0;
    double grist = 0.0;
    const Bill bill = trade_bill();
    for (const BillItem& item : bill.items()) {
        moisture += item.grain.moisture.value * item.weight.value();
        grist += item.weight.value();
    }
    return 4.186 * (f.water_kg + moisture + 0.38 * (grist - moisture));
}

/// m2 of the wall of the trade batch: a cylinder as high as wide.
double wall(const Fermentation& f) {
    const double litres = f.mash_kg - f.dry_grain_kg + 0.69 * f.dry_grain_kg;
    const double width = std::cbrt(litres * 1e-3 * 4.0 / std::numbers::pi);  // V = pi/4 d2 h with h = d
    return std::numbers::pi * width * width * 1.5;                           // side pi d h, lid and floor pi/4 d2 each
}

/// Rate of Newton's cooling, 1/h.
double cooling(const Fermentation& f, const double heat_transfer) {
    return heat_transfer * wall(f) * 3.6 / capacity(f);
}

}  // namespace

TEST_CASE("inoculum: wrong input is refused", "[fermentation][vessel]") {
    CHECK(inoculum_refused({nan_value, 1.0, 1.0}) == "yeast is not a number");
    CHECK(inoculum_refused({infinite, 1.0, 1.0}) == "yeast is infinite");
    CHECK(inoculum_refused({0.03, nan_value, 1.0}) == "enzyme dose is not a number");
    CHECK(inoculum_refused({0.03, -infinite, 1.0}) == "enzyme dose is infinite");
    CHECK(inoculum_refused({0.03, 1.0, nan_value}) == "nutrients is not a number");
    CHECK(inoculum_refused({0.03, 1.0, infinite}) == "nutrients is infinite");
    CHECK(holds(inoculum_refused({0.0, 1.0, 1.0}), "yeast 0 kg must be more than 0 kg"));
    CHECK(holds(inoculum_refused({-0.01, 1.0, 1.0}), "yeast -0.01 kg must be more than 0 kg"));
    CHECK(holds(inoculum_refused({100001.0, 1.0, 1.0}), "yeast 100001 kg is outside 0 to 100000 kg"));
    CHECK(holds(inoculum_refused({0.03, -0.5, 1.0}), "enzyme dose -0.5 of the full dose is outside 0 to 20 of the full dose"));
    CHECK(holds(inoculum_refused({0.03, 20.5, 1.0}), "enzyme dose 20.5 of the full dose"));
    CHECK(holds(inoculum_refused({0.03, 1.0, 0.05}), "nutrients 0.05 of the grain's own is outside 0.1 to 10 of the grain's own"));
    CHECK(holds(inoculum_refused({0.03, 1.0, 11.0}), "nutrients 11 of the grain's own"));
    CHECK(inoculum_refused({1e-9, 0.0, 0.1}) == "no error");
    CHECK(inoculum_refused({1e5, 20.0, 10.0}) == "no error");
}

TEST_CASE("inoculum: yeast by count of cells", "[fermentation][vessel]") {
    // 20 thousand million cells in a gram (from memory): 10 million per mL of 80 L are 8e11 cells, 40 g.
    CHECK(std::abs(yeast_of_cells(10.0, 80.0 * litre).value() - 0.040) <= 1e-15);
    // Chu-Ky et al. 2016 (S37): 3.5e7 cells/mL, 1.75 g/L, of the order of what a distiller pitches.
    const double cells = row_of("stoichiometry_heat_nutrients.csv", "S37").number("value");
    CHECK(std::abs(yeast_of_cells(cells * 1e-6, 1.0 * litre).value() - 1.75e-3) <= 1e-15);
    const auto refused = [](const double million, const volume<>& mash) { return message_of<RangeError>([&] { yeast_of_cells(million, mash); }); };
    CHECK(holds(refused(-1.0, 80.0 * litre), "cells -1 million per mL is outside 0 to 1000 million per mL"));
    CHECK(refused(0.0, 80.0 * litre) == "cells 0 million per mL must be more than 0");
    CHECK(holds(refused(1001.0, 80.0 * litre), "cells 1001 million per mL"));
    CHECK(holds(refused(10.0, 0.0 * litre), "volume of mash 0 L must be more than 0 L"));
    CHECK(holds(refused(10.0, -2.0 * litre), "volume of mash -2 L must be more than 0 L"));
    CHECK(message_of<InputError>([] { yeast_of_cells(nan_value, 80.0 * litre); }) == "cells is not a number");
    CHECK(message_of<InputError>([] { yeast_of_cells(10.0, volume<>::from_value(nan_value)); }) == "volume of mash is not a number");
    CHECK(message_of<InputError>([] { yeast_of_cells(10.0, volume<>::from_value(infinite)); }) == "volume of mash is infinite");
}

TEST_CASE("conditions: wrong input is refused", "[fermentation][vessel]") {
    CHECK(conditions_refused(with(nan_value, {})) == "mash temperature is not a number");
    CHECK(conditions_refused(with(20.0, {nan_value, 0.0, 12.0})) == "heat transfer is not a number");
    CHECK(conditions_refused(with(20.0, {7.0, nan_value, 12.0})) == "sunshine is not a number");
    CHECK(conditions_refused(with(20.0, {7.0, 0.0, nan_value})) == "noon is not a number");
    CHECK(conditions_refused(with(20.0, {infinite, 0.0, 12.0})) == "heat transfer is infinite");
    CHECK(holds(conditions_refused(with(-0.5, {})), "mash temperature -0.5 degC is outside 0 to 45 degC"));
    CHECK(holds(conditions_refused(with(46.0, {})), "mash temperature 46 degC"));
    CHECK(holds(conditions_refused(with(20.0, {-1.0, 0.0, 12.0})), "heat transfer -1 W/(m2 K) is outside 0 to 100 W/(m2 K)"));
    CHECK(holds(conditions_refused(with(20.0, {101.0, 0.0, 12.0})), "heat transfer 101 W/(m2 K)"));
    CHECK(holds(conditions_refused(with(20.0, {7.0, -5.0, 12.0})), "sunshine -5 W is below the lowest allowed, 0 W"));
    CHECK(holds(conditions_refused(with(20.0, {7.0, infinite, 12.0})), "sunshine is infinite"));
    // 86 L of mash stand 0.48 m wide and high: 291 W at noon, and a thousand is a slip.
    const double most = vessel_heat::most_sunshine_w(trade_batch(with(20.0, {})).mash_l());
    CHECK(std::abs(most - 291.5) <= 0.1);
    CHECK(holds(conditions_refused(with(20.0, {7.0, 1000.0, 12.0})), "sunshine 1000 W is outside 0 to 291.5"));
    CHECK(holds(conditions_refused(with(20.0, {7.0, 1.0001 * most, 12.0})), "the most that falls on a vessel of this size"));
    CHECK(conditions_refused(with(20.0, {7.0, most, 12.0})) == "no error");
    CHECK(holds(conditions_refused(with(20.0, {7.0, 0.0, -1.0})), "noon -1 h is outside 0 to 24 h"));
    CHECK(holds(conditions_refused(with(20.0, {7.0, 0.0, 24.5})), "noon 24.5 h"));
    CHECK(conditions_refused(with(0.0, {0.0, 0.0, 0.0})) == "no error");
    CHECK(conditions_refused(with(45.0, {100.0, 200.0, 24.0})) == "no error");
}

TEST_CASE("ambient: constant and of a day", "[fermentation][vessel]") {
    const Ambient same = Ambient::constant(17.5);
    for (const double hour : {-5.0, 0.0, 13.3, 1000.0}) CHECK(same.at(hour) == 17.5);
    const Ambient swing = Ambient::day_night(15.0, 6.0, 9.0);
    CHECK(std::abs(swing.at(9.0) - 21.0) <= 1e-14);   // warmest
    CHECK(std::abs(swing.at(21.0) - 9.0) <= 1e-14);   // coldest half a day later
    CHECK(std::abs(swing.at(15.0) - 15.0) <= 1e-13);  // and the mean between
    CHECK(std::abs(swing.at(9.0 + 7.0 * day) - 21.0) <= 1e-12);
    double sum = 0.0;
    constexpr int steps = 96;
    for (int i = 0; i < steps; ++i) {
        const double t = swing.at(day * i / steps);
        sum += t;
        CHECK(t <= 21.0);
        CHECK(t >= 9.0);
    }
    CHECK(std::abs(sum / steps - 15.0) <= 1e-13);
    CHECK(Ambient::day_night(15.0, 0.0, 3.0).at(3.0) == 15.0);
    CHECK(same.steady());
    CHECK(!swing.steady());
    CHECK(Ambient::day_night(15.0, 0.0, 3.0).steady());
    CHECK(swing == Ambient::day_night(15.0, 6.0, 9.0));
    CHECK(!(swing == same));
}

TEST_CASE("ambient: a logged series", "[fermentation][vessel]") {
    const Ambient logged = Ambient::logged({2.0, 4.0, 10.0}, {10.0, 20.0, 17.0});
    CHECK(logged.at(-1.0) == 10.0);  // the first holds before
    CHECK(logged.at(0.0) == 10.0);
    CHECK(logged.at(2.0) == 10.0);
    CHECK(std::abs(logged.at(2.5) - 12.5) <= 1e-14);
    CHECK(logged.at(4.0) == 20.0);
    CHECK(std::abs(logged.at(6.0) - 19.0) <= 1e-14);
    CHECK(logged.at(10.0) == 17.0);  // the last holds after
    CHECK(logged.at(500.0) == 17.0);
    CHECK(std::abs(logged.at(4.0 - 1e-9) - 20.0) <= 1e-8);
    const Ambient one = Ambient::logged({5.0}, {12.0});
    for (const double hour : {0.0, 5.0, 50.0}) CHECK(one.at(hour) == 12.0);
    CHECK(!logged.steady());
    CHECK(!one.steady());  // a log, even of one entry, is not looked through
}

TEST_CASE("ambient: wrong input is refused", "[fermentation][vessel]") {
    const auto range = [](const auto& call) { return message_of<RangeError>(call); };
    const auto input = [](const auto& call) { return message_of<InputError>(call); };
    CHECK(holds(range([] { Ambient::constant(-31.0); }), "ambient temperature -31 degC is outside -30 to 50 degC"));
    CHECK(holds(range([] { Ambient::constant(51.0); }), "ambient temperature 51 degC"));
    CHECK(input([] { Ambient::constant(nan_value); }) == "ambient temperature is not a number");
    CHECK(input([] { Ambient::constant(infinite); }) == "ambient temperature is infinite");
    CHECK(holds(range([] { Ambient::day_night(20.0, -1.0, 12.0); }), "daily swing -1 K is outside 0 to 30 K"));
    CHECK(holds(range([] { Ambient::day_night(20.0, 31.0, 12.0); }), "daily swing 31 K"));
    CHECK(holds(range([] { Ambient::day_night(20.0, 5.0, 25.0); }), "warmest hour 25 h is outside 0 to 24 h"));
    CHECK(holds(range([] { Ambient::day_night(20.0, 5.0, -1.0); }), "warmest hour -1 h"));
    CHECK(input([] { Ambient::day_night(20.0, nan_value, 12.0); }) == "daily swing is not a number");
    CHECK(input([] { Ambient::day_night(20.0, 5.0, nan_value); }) == "warmest hour is not a number");
    CHECK(holds(input([] { Ambient::logged({}, {}); }), "at least one; got 0 and 0"));
    CHECK(holds(input([] { Ambient::logged({0.0, 1.0}, {20.0}); }), "got 2 and 1"));
    CHECK(holds(input([] { Ambient::logged({0.0, 3.0, 2.0}, {20.0, 20.0, 20.0}); }), "must rise; 2 h follows 3 h"));
    CHECK(holds(input([] { Ambient::logged({1.0, 1.0}, {20.0, 21.0}); }), "must rise; 1 h follows 1 h"));
    CHECK(input([] { Ambient::logged({0.0, nan_value}, {20.0, 20.0}); }) == "time of the logged ambient is not a number");
    CHECK(input([] { Ambient::logged({0.0, 1.0}, {20.0, nan_value}); }) == "ambient temperature is not a number");
    CHECK(holds(range([] { Ambient::logged({0.0, 1.0}, {20.0, 60.0}); }), "ambient temperature 60 degC"));
}

TEST_CASE("vessel: its wall is the least for a cylinder of the volume", "[fermentation][vessel][identity]") {
    // One litre: d = h = 10.84 cm, 553.6 cm2.
    CHECK(std::abs(vessel_heat::surface_m2(1.0) - 0.055358) <= 1e-6);
    for (const double litres : {1.0, 25.0, 90.0, 5000.0}) {
        const double volume = litres * 1e-3;
        const auto surface = [&](const double radius) { return 2.0 * std::numbers::pi * radius * radius + 2.0 * volume / radius; };
        const double best = std::cbrt(volume / (2.0 * std::numbers::pi));
        CHECK(std::abs(vessel_heat::surface_m2(litres) / surface(best) - 1.0) <= 1e-14);
        CHECK(vessel_heat::surface_m2(litres) < surface(1.01 * best));
        CHECK(vessel_heat::surface_m2(litres) < surface(0.99 * best));
        // Its widest shadow: 4 r2 of the side and pi r2 of the lid, seen from the best height of the sun, together sqrt(16 + pi2) r2.
        const double shadow = std::hypot(4.0, std::numbers::pi) * best * best;
        CHECK(std::abs(vessel_heat::most_sunshine_w(litres) / (1000.0 * shadow) - 1.0) <= 0.002);  // two digits of 0.27
    }
}

TEST_CASE("vessel: sunshine is half a sine of twelve hours", "[fermentation][vessel]") {
    const Vessel v{Vessel::bare, 200.0, 10.0};
    CHECK(vessel_heat::sunshine_w(v, 10.0) == 200.0);
    CHECK(std::abs(vessel_heat::sunshine_w(v, 4.0)) <= 1e-12);  // sunrise
    CHECK(std::abs(vessel_heat::sunshine_w(v, 16.0)) <= 1e-12);
    CHECK(std::abs(vessel_heat::sunshine_w(v, 6.0) - 100.0) <= 1e-12);  // sin 30 degrees
    for (const double night : {16.5, 22.0, 27.5}) CHECK(vessel_heat::sunshine_w(v, night) == 0.0);
    CHECK(std::abs(vessel_heat::sunshine_w(v, 10.0 + 5.0 * day) - 200.0) <= 1e-10);
    CHECK(vessel_heat::sunshine_w({Vessel::bare, 0.0, 10.0}, 10.0) == 0.0);
}

TEST_CASE("energy balance: Newton's cooling", "[fermentation][vessel][identity]") {
    std::vector<double> hours;
    for (int i = 0; i <= 16; ++i) hours.push_back(3.0 * i);
    for (const double heat_transfer : {0.0, Vessel::insulated, Vessel::wood, Vessel::bare, still_air_bath}) {
        const Conditions c{32.0, Ambient::constant(12.0), {heat_transfer, 0.0, 12.0}};
        const double k = cooling(trade_batch(c), heat_transfer);
        const std::vector<double> found = temperatures(c, hours);
        for (std::size_t i = 0; i < hours.size(); ++i) {
            const double exact = 12.0 + 20.0 * std::exp(-k * hours[i]);
            CAPTURE(heat_transfer, k, hours[i], found[i], exact);
            CHECK(std::abs(found[i] - exact) <= 1e-7);
        }
    }
}

TEST_CASE("energy balance: a day's swing comes through late and smaller", "[fermentation][vessel][identity]") {
    // dT/dt = -k (T - mean - swing cos(w (t - warmest))), solved in closed form.
    const Conditions c{22.0, Ambient::day_night(16.0, 7.0, 9.0), {Vessel::bare, 0.0, 12.0}};
    const double k = cooling(trade_batch(c), Vessel::bare);
    const double w = 2.0 * std::numbers::pi / day;
    const auto forced = [&](const double t) {
        const double at = w * (t - 9.0);
        return 16.0 + 7.0 * k * (k * std::cos(at) + w * std::sin(at)) / (k * k + w * w);
    };
    std::vector<double> hours;
    for (int i = 0; i <= 60; ++i) hours.push_back(2.0 * i);
    const std::vector<double> found = temperatures(c, hours);
    for (std::size_t i = 0; i < hours.size(); ++i) {
        const double exact = forced(hours[i]) + (22.0 - forced(0.0)) * std::exp(-k * hours[i]);
        CAPTURE(hours[i], found[i], exact);
        CHECK(std::abs(found[i] - exact) <= 1e-7);
    }
}

TEST_CASE("energy balance: behind air that warms steadily", "[fermentation][vessel][identity]") {
    const Conditions c{15.0, Ambient::logged({0.0, 48.0}, {10.0, 34.0}), {Vessel::wood, 0.0, 12.0}};
    const double k = cooling(trade_batch(c), Vessel::wood);
    const std::vector<double> hours{0.0, 1.0, 6.0, 20.0, 47.0};
    const std::vector<double> found = temperatures(c, hours);
    for (std::size_t i = 0; i < hours.size(); ++i) {
        const double t = hours[i];
        const double exact = 10.0 + 0.5 * t - 0.5 / k + (15.0 - 10.0 + 0.5 / k) * std::exp(-k * t);  // half a kelvin an hour
        CAPTURE(t, found[i], exact);
        CHECK(std::abs(found[i] - exact) <= 1e-7);
    }
}

TEST_CASE("energy balance: the sunshine of a day", "[fermentation][vessel][identity]") {
    // No loss: the mash warms by the integral of the sunshine, P 24/pi Wh a day, over its heat capacity.
    const Conditions c{15.0, Ambient::constant(15.0), {0.0, 150.0, 10.0}};
    const double per_day = 150.0 * day / std::numbers::pi * 3.6 / capacity(trade_batch(c));
    const std::vector<double> found = temperatures(c, {0.0, 4.0, 10.0, 16.0, 24.0, 48.0, 72.0});
    CAPTURE(per_day, found[4], found[6]);
    CHECK(std::abs(found[1] - 15.0) <= 1e-6);  // before sunrise
    CHECK(std::abs(found[2] - 15.0 - 0.5 * per_day) <= 1e-6);
    CHECK(std::abs(found[3] - 15.0 - per_day) <= 1e-6);
    CHECK(std::abs(found[4] - 15.0 - per_day) <= 1e-6);
    CHECK(std::abs(found[5] - 15.0 - 2.0 * per_day) <= 1e-6);
    CHECK(std::abs(found[6] - 15.0 - 3.0 * per_day) <= 1e-6);
}

TEST_CASE("vessel: walls as the air film and the layer in a row", "[fermentation][vessel]") {
    // The film of still air is 6 to 9 W/(m2 K); 25 mm of wood conduct 0.12 to 0.18, of foam 0.033 to 0.036 W/(m K), from memory.
    constexpr double layer_m = 0.025;
    const auto wall = [](const double film, const double conductivity) { return 1.0 / (1.0 / film + layer_m / conductivity); };
    CHECK(Vessel::bare >= 6.0);
    CHECK(Vessel::bare <= 9.0);
    CHECK(Vessel::wood >= wall(6.0, 0.12));
    CHECK(Vessel::wood <= wall(9.0, 0.18));
    CHECK(Vessel::insulated >= wall(6.0, 0.033));
    CHECK(Vessel::insulated <= wall(9.0, 0.036));
}

TEST_CASE("energy balance: an insulated mash keeps the heat of its fermentation", "[fermentation][vessel][identity]") {
    // Nothing leaves: the rise of temperature is 557 kJ for each kg of sugar taken, over the heat capacity as charged.
    const Conditions c{12.0, Ambient::constant(12.0), {0.0, 0.0, 12.0}};
    const Fermentation f = trade_batch(c);
    for (const WashState& s : simulate(f, {6.0, 24.0, 72.0, 200.0}).at) {
        const double taken = s.ethanol_kg / (f.priors[kinetic::fermentation_yield].median * stoichiometry::ethanol_per_glucose);
        const double rise = 557.0 * taken / capacity(f);
        CAPTURE(s.time_h, s.temperature_c, rise);
        CHECK(std::abs(s.temperature_c - 12.0 - rise) <= 1e-6 * (1.0 + rise));
    }
}
