#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <ferment/core/lanes.hpp>
#include <ferment/fermentation/simulate.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "batches.hpp"

using namespace ferment;
using namespace ferment_test;

namespace {

using State = ferment::detail::course_state;
using Slopes = fermentation_course<double>;
using Z = kinetic_values<double>;
constexpr int components = static_cast<int>(state::count);

ode::Tolerance close_to(const double relative) {
    ode::Tolerance t;
    t.relative = relative;
    t.absolute = 1e-2 * relative;
    return t;
}

/// The state itself at each time, where simulate gives what can be measured of it.
std::vector<State> states(const Slopes& c, const std::vector<double>& hours, const ode::Tolerance& tolerance = {}) {
    State start;
    c.start(start);
    std::vector<State> found;
    ode::integrate<components>(
        c, start, hours, [&](const State& y, double) { found.push_back(y); }, [](const State&) { return false; }, tolerance);
    return found;
}

std::vector<double> every(const double step, const double last) {
    std::vector<double> hours;
    for (int i = 0; step * i <= last + 1e-9; ++i) hours.push_back(step * i);
    return hours;
}

/// Parameter sets spread about the medians: the medians, and a fixed pattern of up to one and a half spreads.
std::vector<Z> parameter_sets() {
    std::vector<Z> sets(1, Z{});
    for (int n = 1; n <= 6; ++n) {
        Z z{};
        for (std::size_t i = 0; i < kinetic::count; ++i) z[i] = 1.5 * std::sin(1.0 + 2.3 * n + 1.7 * static_cast<double>(i) * n);
        sets.push_back(z);
    }
    return sets;
}

/// A bill with starch, hexose and disaccharides.
Bill sweet_bill() {
    Bill bill;
    bill.add(grain("barley malt"), 5.0 * kilogram).add(made_of("sugar", 0.0, 0.9, 1.0), 2.0 * kilogram).add(made_of("sugar", 0.0, 0.8), 1.0 * kilogram);
    return bill;
}

Fermentation sweet_batch(const double celsius) {
    const Bill bill = sweet_bill();
    return Fermentation::of(bill, potential(bill, 30.0 * kilogram, no_cook::assumptions()), {0.02, 1.0, 1.0}, steady(celsius));
}

/// One kind of grain in water, in a bath of its temperature.
Fermentation bath(const Grain& grain, const double kg, const double water, const double celsius, const Inoculum& inoculum, const Assumptions& assumed) {
    Bill bill;
    bill.add(grain, kg * kilogram);
    return Fermentation::of(bill, potential(bill, water * kilogram, assumed), inoculum, steady(celsius, still_air_bath));
}

/// Fourth-order Runge-Kutta of fixed step, written here so that it shares nothing with the integrator of the library.
State classic_runge_kutta(const Slopes& c, const double hours, const double step) {
    State y;
    c.start(y);
    const int steps = static_cast<int>(std::lround(hours / step));
    State a, b, d, e;
    for (int i = 0; i < steps; ++i) {
        const double t = step * i;
        c(y, a, t);
        c(State(y + 0.5 * step * a), b, t + 0.5 * step);
        c(State(y + 0.5 * step * b), d, t + 0.5 * step);
        c(State(y + step * d), e, t + step);
        y += step / 6.0 * (a + 2.0 * b + 2.0 * d + e);
    }
    return y;
}

double root_mean_square(const std::vector<double>& off) {
    double sum = 0.0;
    for (const double x : off) sum += x * x;
    return std::sqrt(sum / static_cast<double>(off.size()));
}

}  // namespace

TEST_CASE("course: mass, carbon and sugar balance at all times", "[fermentation][course][identity]") {
    // Carbon of starch, sugars, ethanol and carbon dioxide from atomic weights; by-products count with the carbon of the sugar they are made of.
    constexpr double carbon = 12.011;
    constexpr double starch_carbon = 6.0 * carbon / stoichiometry::anhydroglucose;
    constexpr double hexose_carbon = 6.0 * carbon / stoichiometry::glucose;
    constexpr double disaccharide_carbon = 12.0 * carbon / stoichiometry::disaccharide;
    constexpr double ethanol_carbon = 2.0 * carbon / stoichiometry::ethanol;
    constexpr double gas_carbon = carbon / stoichiometry::carbon_dioxide;
    CHECK(std::abs(starch_carbon - 0.4444) <= 0.0001);
    CHECK(std::abs(ethanol_carbon - 0.5214) <= 0.0001);
    const Fermentation batches[] = {trade_batch(steady(18.0)), sweet_batch(25.0)};
    for (const Fermentation& f : batches) {
        // Sugars as charged: the disaccharides are what the hexose weighs more than the sugars.
        const double split = (f.masses.hexose_of_sugars - f.masses.sugars) / (stoichiometry::hexose_per_disaccharide - 1.0);
        const double sugar_carbon = (disaccharide_carbon * split + hexose_carbon * (f.masses.sugars - split)) / f.mash_kg;
        for (const Z& z : parameter_sets()) {
            const auto c = Slopes::of(f, z);
            const double charged = starch_carbon * c.in.starch + sugar_carbon;
            double taken_before = 0.0;
            double dissolved_before = 0.0;
            for (const State& y : states(c, every(8.0, 400.0))) {
                const wash_masses<double> m = c.stage(y);
                CHECK(std::abs(m.total() - 1.0) <= 1e-12);
                const double now =
                    starch_carbon * m.starch + hexose_carbon * (y[state::sugar] + m.by_products) + ethanol_carbon * m.ethanol + gas_carbon * m.carbon_dioxide;
                CHECK(std::abs(now / charged - 1.0) <= 1e-12);
                const double taken = c.taken(y);
                // 0.51143 and 0.48857 kg/kg (S02, S04) to their printed digits, and the exact ratios to round-off.
                const double yield = c.p[kinetic::fermentation_yield];
                CHECK(std::abs(m.ethanol - yield * stoichiometry::ethanol_per_glucose * taken) <= 1e-12);
                CHECK(std::abs(m.ethanol - yield * 0.51143 * taken) <= 1e-5 * taken + 1e-12);
                CHECK(std::abs(m.carbon_dioxide - yield * 0.48857 * taken) <= 1e-5 * taken + 1e-12);
                CHECK(std::abs(m.by_products - (1.0 - yield) * taken) <= 1e-12);
                // Starch dissolved becomes sugar with its water (1.11111, S01), which stands or was taken.
                CHECK(std::abs(c.in.starch - m.starch - c.dissolved(y)) <= 1e-12);
                CHECK(std::abs(c.in.hexose_of_sugars + 1.11111 * c.dissolved(y) - taken - y[state::sugar]) <= 2e-6);
                // Sugar runs out to within the integrator's absolute tolerance of 1e-10, not closer: measured 1.1e-12 back at the most.
                CHECK(taken >= taken_before - 1e-11);
                CHECK(c.dissolved(y) >= dissolved_before - 1e-14);
                CHECK(c.conversion(y) <= c.p[kinetic::conversion_limit] + 1e-12);
                taken_before = taken;
                dissolved_before = c.dissolved(y);
                for (int i = 0; i < components; ++i) {
                    CAPTURE(i, y[i]);
                    CHECK(y[i] >= -1e-10);  // the absolute tolerance of the integrator; the temperature stays above freezing as well
                }
                CHECK(y[state::adapted] <= 1.0 + 1e-10);
                CHECK(y[state::enzyme] <= 1.0);
            }
            CHECK(taken_before > 0.05);
        }
    }
}

TEST_CASE("course: rates shown are those of the masses", "[fermentation][course][identity]") {
    // Gas and heat of a moment against the slope of what was made, by a central difference of 2e-2 h.
    constexpr double h = 0.01;
    const Fermentation f = trade_batch({16.0, Ambient::day_night(18.0, 4.0, 10.0), {Vessel::wood, 80.0, 8.0}});
    for (const double t : {3.0, 30.0, 61.0, 150.0}) {
        const Course k = simulate(f, {t - h, t, t + h}, {}, close_to(1e-11));
        const double gas = (k.at[2].co2_kg - k.at[0].co2_kg) / (2.0 * h);  // kg/h
        CAPTURE(t, gas, k.at[1].co2_l_per_h);
        CHECK(std::abs(k.at[1].co2_l_per_h / (gas * carbon_dioxide::litres_per_kg(k.at[1].temperature_c)) - 1.0) <= 1e-5);
        const double taken = gas / (f.priors[kinetic::fermentation_yield].median * stoichiometry::co2_per_glucose);
        CHECK(std::abs(k.at[1].heat_w / (taken * 557.0 / 3.6) - 1.0) <= 1e-5);
    }
}

TEST_CASE("course: what is measured belongs together", "[fermentation][course][identity]") {
    const Fermentation f = trade_batch(steady(22.0));
    const Course k = simulate(f, every(12.0, 336.0));
    REQUIRE(k.at.size() == 29);
    double conversion = -1.0;
    double gravity = 2.0;
    for (const WashState& s : k.at) {
        CAPTURE(s.time_h);
        CHECK(std::abs(s.gravity - wash::gravity_20_20(s.abw, s.real_extract)) <= 1e-15);
        CHECK(std::abs(s.density - wash::density(s.abw, s.real_extract, s.temperature_c)) <= 1e-10);
        CHECK(std::abs(s.abv - wash::abv(s.abw, s.real_extract)) <= 1e-15);
        CHECK(std::abs(s.pure_alcohol_l - s.ethanol_kg / 0.78924) <= 1e-4 * s.pure_alcohol_l);  // ethanol at 20 degC: 789.24 kg/m3, OIML R 22
        CHECK(std::abs(s.co2_kg - s.co2_dissolved_kg - s.co2_lost_kg) <= 1e-15);
        CHECK(s.co2_dissolved_kg <= s.co2_kg);
        CHECK(s.co2_dissolved_kg <= carbon_dioxide::saturation(s.temperature_c) * f.mash_kg);
        CHECK(std::abs(s.starch_kg - f.masses.starch * (1.0 - s.conversion)) <= 1e-12 * f.masses.starch);
        // Glycerol 3.3 of 5.1 g by-products per 100 g of glucose, Weihenstephan lecture notes 4.2 (S16 to S18).
        const double by_products = s.ethanol_kg / stoichiometry::ethanol_per_glucose * (1.0 / f.priors[kinetic::fermentation_yield].median - 1.0);
        CHECK(std::abs(s.glycerol_kg - 3.3 / 5.1 * by_products) <= 1e-12);
        CHECK(s.conversion > conversion);
        if (s.time_h > 24.0) CHECK(s.gravity < gravity);  // after the start, when sugar is made faster than it is taken
        conversion = s.conversion;
        gravity = s.gravity;
    }
    CHECK(k.at[0].ethanol_kg == 0.0);
    CHECK(k.at[0].co2_kg == 0.0);
    CHECK(k.at[0].co2_lost_kg == 0.0);
    CHECK(k.at[0].conversion == 0.0);
    CHECK(k.at[0].temperature_c == 22.0);
    CHECK(std::abs(k.at[0].yeast * (1.0 / 1000.0) * (f.water_kg + f.masses.moisture + f.masses.sugars + 0.2 * f.masses.rest) - 0.8 * 0.030) <= 1e-12);
}

TEST_CASE("course: begins and ends as the mash model says", "[fermentation][course][identity]") {
    struct Kept {
        Bill bill;
        double water;
    };
    for (const Kept& kept : {Kept{trade_bill(), 72.0}, Kept{sweet_bill(), 30.0}}) {
        const Potential p = potential(kept.bill, kept.water * kilogram, no_cook::assumptions());
        const wash_model model = wash_model::of(p).plain();
        const Fermentation f = Fermentation::of(kept.bill, p, {0.03, 1.0, 1.0}, steady(25.0));
        const Course k = simulate(f, {0.0, 48.0, 1200.0});
        CHECK(std::abs(k.at[0].gravity - model.gravity(0.0, 0.0).value()) <= 1e-12);
        const WashState& end = k.at[2];
        // Seven weeks on there is a ten thousandth of the open starch left, and less sugar.
        CHECK(end.open_starch < 0.01);
        CHECK(end.free_sugar < 1e-5);
        CHECK(std::abs(end.gravity - model.gravity(end.conversion, 1.0).value()) <= end.free_sugar + 1e-12);
        Assumptions as_found = no_cook::assumptions();
        as_found.conversion = {end.conversion, 0.0};
        const EndPoint same = end_point(potential(kept.bill, kept.water * kilogram, as_found));
        CHECK(std::abs(end.gravity - same.gravity.value()) <= end.free_sugar + 1e-12);
        CHECK(std::abs(end.abv - same.abv.value()) <= end.free_sugar + 1e-12);
        CHECK(std::abs(end.ethanol_kg - same.ethanol_kg.value()) <= 1e-4 * end.ethanol_kg);
        // And the end point of the assumptions themselves, to what is still open.
        const EndPoint assumed = end_point(p);
        CHECK(std::abs(end.conversion - p.conversion.value()) <= 1e-4);
        CHECK(std::abs(end.gravity - assumed.gravity.value()) <= 1e-5);
        // On the way: sugar fermented against all sugar made so far.
        const WashState& mid = k.at[1];
        const double all = stoichiometry::glucose_per_starch * f.masses.starch * mid.conversion + f.masses.hexose_of_sugars;
        const double fermented = mid.ethanol_kg / (p.fermentation_efficiency.value() * stoichiometry::ethanol_per_glucose) / all;
        CHECK(fermented > 0.1);
        CHECK(fermented < 0.999);
        CHECK(std::abs(mid.gravity - model.gravity(mid.conversion, fermented).value()) <= 1e-12);
    }
}

TEST_CASE("course: what is open to enzymes follows from the bill", "[fermentation][course]") {
    const Fermentation f = trade_batch(steady(20.0));
    const auto c = Slopes::of(f, Z{});
    CHECK(std::abs((c.slow_start + c.fast_start) / c.in.starch - no_cook::conversion().value) <= 1e-12);
    CHECK(std::abs(c.in.starch * f.mash_kg - f.masses.starch) <= 1e-12);
    // Flakes 0.40 and malt 0.15, weighed by their starch.
    const double flaked = grain("flaked barley").starch.value * 14.0 + grain("flaked rye").starch.value * 4.0;
    const double malted = grain("barley malt").starch.value * 1.5;
    CHECK(std::abs(f.fast_share - (0.40 * flaked + 0.15 * malted) / (flaked + malted)) <= 1e-14);
    CHECK(std::abs(c.fast_start / (c.slow_start + c.fast_start) - f.fast_share) <= 1e-14);
    Z open{};
    open[kinetic::fast_share] = 1.0;  // one spread: the odds grow by exp(0.8)
    const auto o = Slopes::of(f, open);
    const double share = o.fast_start / (o.fast_start + o.slow_start);
    CHECK(std::abs(share / (1.0 - share) / (f.fast_share / (1.0 - f.fast_share)) - std::exp(0.8)) <= 1e-12);
    // More starch is less rest; never more than there is.
    Z rich{};
    rich[kinetic::starch_content] = 1.0;
    const auto r = Slopes::of(f, rich);
    CHECK(r.in.starch > c.in.starch);
    CHECK(std::abs(r.in.starch + r.in.rest - c.in.starch - c.in.rest) <= 1e-15);
    rich[kinetic::starch_content] = 1000.0;
    const auto none = Slopes::of(f, rich);
    CHECK(std::abs(none.in.rest) <= 1e-15);
    CHECK(std::abs(none.in.starch - c.in.starch - c.in.rest) <= 1e-15);
    // The spread of the starch is that of the lots, two lines of one bill independent of each other.
    CHECK(std::abs(f.priors[kinetic::starch_content].spread - trade_potential().masses.starch.standard_uncertainty() / f.masses.starch) <= 1e-15);
}

TEST_CASE("course: a batch that cannot be is refused", "[fermentation][course]") {
    const Bill bill = trade_bill();
    const Potential p = trade_potential();
    const Conditions c = steady(20.0);
    const auto input = [](const auto& call) { return message_of<InputError>(call); };
    const auto range = [](const auto& call) { return message_of<RangeError>(call); };
    CHECK(holds(input([&] { Fermentation::of(Bill{}, p, trade_inoculum, c); }), "holds no grain"));
    Bill heavier = bill;
    heavier.add(grain("rye"), 1.0 * kilogram);
    CHECK(holds(input([&] { Fermentation::of(heavier, p, trade_inoculum, c); }), "the bill weighs 20.5 kg but the potential was computed for 19.5 kg"));
    Bill odd;
    odd.add(made_of("kernels", 0.6, 0.0), 1.0 * kilogram);
    const Potential of_odd = potential(odd, 4.0 * kilogram, no_cook::assumptions());
    CHECK(holds(input([&] { Fermentation::of(odd, of_odd, trade_inoculum, c); }), "form of made-up kernels is \"kernels\"; known forms are grain, grits"));
    Bill chaff;
    chaff.add(made_of("grain", 0.0, 0.0), 1.0 * kilogram);
    const Potential of_chaff = potential(chaff, 4.0 * kilogram, no_cook::assumptions());
    CHECK(holds(input([&] { Fermentation::of(chaff, of_chaff, trade_inoculum, c); }), "neither starch nor sugar"));
    // A potential refuses dry grain by itself; one whose water was taken away afterwards is refused here.
    Bill dry;
    dry.add(made_of("grain", 0.6, 0.0), 1.0 * kilogram);
    Potential without_water = potential(dry, 4.0 * kilogram, no_cook::assumptions());
    without_water.water_kg = 0.0;
    CHECK(holds(range([&] { Fermentation::of(dry, without_water, trade_inoculum, c); }), "mass of water 0 kg must be more than zero"));
    CHECK(holds(range([&] { Fermentation::of(bill, p, trade_inoculum, c, {1.2, 0.1}); }), "dissolved share of the by-products 120 % is outside 0 to 100 %"));
    CHECK(holds(input([&] { Fermentation::of(bill, p, trade_inoculum, c, {nan_value, 0.1}); }), "dissolved share of the by-products"));
    CHECK(holds(input([&] { Fermentation::of(bill, p, trade_inoculum, c, {0.7, -0.1}); }), "dissolved share of the by-products"));

    // As heavy, but of another grain: the potential belongs to another bill.
    Bill swapped;
    swapped.add(grain("flaked barley"), 14.0 * kilogram).add(grain("flaked rye"), 4.0 * kilogram).add(made_of("grain", 0.5, 0.0), 1.5 * kilogram);
    const std::string other = input([&] { Fermentation::of(swapped, p, trade_inoculum, c); });
    CAPTURE(other);
    CHECK(holds(other, "the bill holds "));
    CHECK(holds(other, "kg of starch but the potential was computed for "));
    // All or nothing is certain, or it is neither.
    CHECK(holds(input([&] {
                    Fermentation::of(bill, p, trade_inoculum, c, {1.0, 0.1});
                }),
                "dissolved share of the by-products 100 % cannot spread to both sides"));
    CHECK(holds(input([&] {
                    Fermentation::of(bill, p, trade_inoculum, c, {0.0, 0.1});
                }),
                "dissolved share of the by-products 0 % cannot spread to both sides"));
    for (const double share : {0.0, 1.0}) {
        const Fermentation certain = Fermentation::of(bill, p, trade_inoculum, c, {share, 0.0});
        CHECK(certain.priors[kinetic::dissolved_share].spread == 0.0);
        for (const double z : {-3.0, 0.0, 3.0}) CHECK(certain.priors[kinetic::dissolved_share].at(z) == share);
    }
    Assumptions complete = no_cook::assumptions();
    complete.conversion = {1.0, 0.02};
    const Potential all_of_it = potential(bill, 72.0 * litre, 14.0 * degree_celsius, complete);
    CHECK(holds(input([&] { Fermentation::of(bill, all_of_it, trade_inoculum, c); }), "conversion 100 % cannot spread to both sides; give a value between 0"));
    complete.conversion = {1.0, 0.0};
    const Fermentation full = Fermentation::of(bill, potential(bill, 72.0 * litre, 14.0 * degree_celsius, complete), trade_inoculum, c);
    CHECK(std::abs(simulate(full, {4000.0}).at[0].conversion - 1.0) <= 1e-6);
}

TEST_CASE("course: a prior can be replaced", "[fermentation][course]") {
    const Fermentation plain = trade_batch(steady(20.0));
    Fermentation f = plain;
    CHECK(&f.set_prior("lag", 5.0, 0.2) == &f);
    CHECK(f.priors[kinetic::lag].median == 5.0);
    CHECK(f.priors[kinetic::lag].spread == 0.2);
    CHECK(f.priors[kinetic::lag].name == "lag");
    for (std::size_t i = 0; i < kinetic::count; ++i) {
        if (i == kinetic::lag) continue;
        CHECK(f.priors[i].median == plain.priors[i].median);
        CHECK(f.priors[i].spread == plain.priors[i].spread);
    }
    CHECK(std::abs(f.values(Z{})[kinetic::lag] - 5.0) <= 1e-15);
    Z z{};
    z[kinetic::lag] = 1.0;
    CHECK(std::abs(f.values(z)[kinetic::lag] - 5.0 * std::exp(0.2)) <= 1e-14);
    CHECK(simulate(f, {24.0}).at[0].co2_kg < simulate(plain, {24.0}).at[0].co2_kg);
    CHECK(kinetic_table[kinetic::lag].median != 5.0);  // the table itself stays
    // Any number is a median on the normal scale, and every spread may be nothing.
    CHECK(f.set_prior("ambient_offset", -4.0, 0.0).priors[kinetic::ambient_offset].median == -4.0);
    z[kinetic::ambient_offset] = 3.0;
    CHECK(f.values(z)[kinetic::ambient_offset] == -4.0);

    const auto input = [&](const char* name, const double median, const double spread) {
        return message_of<InputError>([&] { f.set_prior(name, median, spread); });
    };
    const auto range = [&](const char* name, const double median, const double spread) {
        return message_of<RangeError>([&] { f.set_prior(name, median, spread); });
    };
    const std::string unknown = input("lags", 3.0, 0.1);
    CAPTURE(unknown);
    CHECK(holds(unknown, "parameter \"lags\" is not known; known are "));
    for (const kinetic_parameter& p : kinetic_table) CHECK(holds(unknown, std::string(p.name)));
    CHECK(holds(input("", 3.0, 0.1), "is not known"));
    CHECK(input("lag", nan_value, 0.1) == "median of lag is not a number");
    CHECK(input("lag", infinite, 0.1) == "median of lag is infinite");
    CHECK(input("lag", 3.0, nan_value) == "spread of lag is not a number");
    CHECK(input("ambient_offset", 0.0, infinite) == "spread of ambient_offset is infinite");
    CHECK(range("lag", 0.0, 0.1) == "median of lag 0 h must be more than zero");
    CHECK(holds(range("uptake_rate", -1.0, 0.1), "median of uptake_rate -1 g/(g h) must be more than zero"));
    CHECK(range("conversion_limit", 1.0, 0.1) == "median of conversion_limit 1 must lie between 0 and 1");
    CHECK(range("conversion_limit", 0.0, 0.1) == "median of conversion_limit 0 must lie between 0 and 1");
    CHECK(range("fast_share", 1.5, 0.1) == "median of fast_share 1.5 must lie between 0 and 1");
    CHECK(range("lag", 3.0, -0.1) == "spread of lag -0.1 must be zero or more");
    CHECK(f.priors[kinetic::lag].median == 5.0);  // what was refused changed nothing
    CHECK(f.priors[kinetic::lag].spread == 0.2);
}

TEST_CASE("course: what a hydrometer shows in the vessel", "[fermentation][course][identity]") {
    // Against the instrument itself: corrected for temperature and alcohol its reading is the gravity again.
    const Fermentation f = trade_batch({30.0, Ambient::constant(12.0), {Vessel::wood, 0.0, 12.0}});
    for (const WashState& s : simulate(f, {0.0, 20.0, 60.0, 300.0}).at) {
        const auto strength = abw<>::from_value(s.abw);
        const auto solids = extract<>::from_value(s.real_extract);
        const auto warmth = celsius<>::from_value(s.temperature_c);
        CAPTURE(s.time_h, s.temperature_c, s.gravity, s.hydrometer);
        CHECK(std::abs(s.hydrometer - Hydrometer().reads(strength, solids, warmth)) <= 1e-15);
        // A stem reads density against water at 20 degC: too low in a warm wash, too high in a cold one.
        CHECK((s.hydrometer < s.gravity) == (s.temperature_c > 20.0));
        CHECK(std::abs(s.hydrometer - s.gravity) <= 5e-3);
    }
    // Outside 0 to 40 degC there is no density, and so no reading.
    const WashState hot = simulate(trade_batch(steady(42.0, still_air_bath)), {10.0}).at[0];
    CHECK(hot.temperature_c > 41.0);
    CHECK(std::isnan(hot.hydrometer));
    CHECK(std::isnan(hot.density));
    CHECK(std::isfinite(hot.gravity));
}

TEST_CASE("simulate: times and tolerances that cannot be are refused", "[fermentation][course]") {
    const Fermentation f = trade_batch(steady(20.0));
    const auto input = [](const auto& call) { return message_of<InputError>(call); };
    const auto range = [](const auto& call) { return message_of<RangeError>(call); };
    CHECK(holds(input([&] { simulate(f, {}); }), "give at least one time"));
    CHECK(input([&] { simulate(f, {0.0, nan_value}); }) == "time is not a number");
    CHECK(input([&] { simulate(f, {infinite}); }) == "time is infinite");
    CHECK(holds(range([&] { simulate(f, {-1.0}); }), "time -1 h is outside 0 to 8760 h"));
    CHECK(holds(range([&] { simulate(f, {8761.0}); }), "time 8761 h"));
    CHECK(holds(input([&] { simulate(f, {5.0, 4.0}); }), "times must not go backwards; 4 h follows 5 h"));
    ode::Tolerance t;
    t.relative = 0.1;
    CHECK(holds(range([&] { simulate(f, {1.0}, {}, t); }), "relative tolerance 0.1 is outside 1e-13 to 0.01"));
    t.relative = nan_value;
    CHECK(input([&] { simulate(f, {1.0}, {}, t); }) == "relative tolerance is not a number");
    t = {};
    t.absolute = 1e-16;
    CHECK(holds(range([&] { simulate(f, {1.0}, {}, t); }), "absolute tolerance 1e-16 is outside 1e-15 to 0.01"));
    t = {};
    t.longest_step_h = 169.0;
    CHECK(holds(range([&] { simulate(f, {1.0}, {}, t); }), "longest step 169 h is outside 0.001 to 168 h"));
    t = {};
    t.most_steps = 5;
    CHECK(holds(message_of<SolveError>([&] { simulate(f, {100.0}, {}, t); }), "could not be followed past"));
    Z lost{};
    lost[kinetic::uptake_rate] = nan_value;
    CHECK(holds(message_of<SolveError>([&] { simulate(f, {100.0}, lost); }), "could not be followed past"));
    // The same time twice, and the start alone, are fine.
    const Course twice = simulate(f, {0.0, 0.0, 9.0, 9.0});
    CHECK(twice.at.size() == 4);
    CHECK(twice.at[2].gravity == twice.at[3].gravity);
    CHECK(twice.at[0].gravity == simulate(f, {0.0}).at[0].gravity);
    CHECK(simulate(f, {0.0}).steps == 0);
    CHECK(std::isnan(simulate(f, {0.0}).done_h));
    // What is asked for between does not change what comes after.
    CHECK(simulate(f, {9.0}).at[0].gravity == twice.at[2].gravity);
}

TEST_CASE("simulate: open starch alone decays as two exponentials", "[fermentation][course][analytic]") {
    Z z{};
    z[kinetic::uptake_rate] = far_down;
    z[kinetic::glucose_inhibition] = far_up;
    z[kinetic::enzyme_decay] = far_down;
    const std::vector<double> hours = every(6.0, 120.0);
    for (const double dose : {1.0, 3.0}) {
        for (const double celsius : {15.0, 30.0}) {
            const Fermentation f = trade_batch(steady(celsius, still_air_bath), {0.03, dose, 1.0});
            // 0.058 1/h at 30 degC, 50 kJ/mol, dose to the power of 0.75, the fast part 6 times as fast.
            const double slow = f.priors[kinetic::hydrolysis_rate].median * std::pow(dose, f.priors[kinetic::dose_exponent].median) *
                                std::exp(-f.priors[kinetic::hydrolysis_activation_energy].median / 8.314462618e-3 * (1.0 / (celsius + 273.15) - 1.0 / 303.15));
            const double fast = slow * f.priors[kinetic::fast_rate_ratio].median;
            const double open = f.masses.starch * f.priors[kinetic::conversion_limit].median;
            const double resistant = f.masses.starch - open;
            const Course k = simulate(f, hours, z);
            for (const WashState& s : k.at) {
                const double exact = open * ((1.0 - f.fast_share) * std::exp(-slow * s.time_h) + f.fast_share * std::exp(-fast * s.time_h));
                CAPTURE(dose, celsius, s.time_h, s.starch_kg - resistant, exact);
                CHECK(std::abs(s.starch_kg - resistant - exact) <= 1e-6 * open);
                CHECK(s.temperature_c == celsius);
                CHECK(s.ethanol_kg <= 1e-12);
            }
            // With an enzyme that decays at d, the clock runs as (1 - exp(-d t))/d.
            Z fading = z;
            fading[kinetic::enzyme_decay] = 3.0;
            const double d = f.priors[kinetic::enzyme_decay].at(3.0) * std::exp(-200.0 / 8.314462618e-3 * (1.0 / (celsius + 273.15) - 1.0 / 303.15));
            for (const WashState& s : simulate(f, hours, fading).at) {
                const double clock = (1.0 - std::exp(-d * s.time_h)) / d;
                const double exact = open * ((1.0 - f.fast_share) * std::exp(-slow * clock) + f.fast_share * std::exp(-fast * clock));
                CAPTURE(d, s.time_h, exact);
                CHECK(std::abs(s.starch_kg - resistant - exact) <= 1e-6 * open);
            }
        }
    }
}

TEST_CASE("simulate: uptake alone follows the integrated Monod equation with lag", "[fermentation][course][analytic]") {
    // Sugar in water; nothing grows, dies or becomes ethanol, and by-products stay dissolved, so that the liquid keeps its mass:
    //   K ln(S0/S) + S0 - S = V (t - (1 - exp(-a t))/a), a = 1/lag the rate of adaptation, V = uptake rate times yeast.
    Z z{};
    z[kinetic::fermentation_yield] = far_down;
    z[kinetic::dissolved_share] = -far_down;
    z[kinetic::growth_yield] = far_down;
    z[kinetic::death_rate] = far_down;
    z[kinetic::temperature_exponent] = far_down;  // the heat of fermentation warms the bath a little: let the rates not see it
    const Fermentation f = bath(made_of("sugar", 0.0, 1.0), 0.1, 0.9, 21.0, {2e-3, 1.0, 1.0}, no_cook::assumptions());
    const double a = 1.0 / f.priors[kinetic::lag].median;
    const double v = f.priors[kinetic::uptake_rate].median * 2.0 * f.priors[kinetic::pitched_activity].median;  // 2 g of yeast in a kg
    const double start = 100.0;
    const Course k = simulate(f, every(2.0, 40.0), z, close_to(1e-10));
    double least = start;
    for (const WashState& s : k.at) {
        const double left = 1000.0 * s.free_sugar;
        const double clock = v * (s.time_h - (1.0 - std::exp(-a * s.time_h)) / a);
        const double residual = no_cook_kinetics::half_saturation * std::log(start / left) + start - left - clock;
        CAPTURE(s.time_h, left, residual, s.temperature_c);
        CHECK(std::abs(residual) <= 1e-6);
        least = std::min(least, left);
    }
    CHECK(least < 1.0);
}

TEST_CASE("simulate: yeast without sugar dies as first order, and fed yeast is what was pitched and what grew", "[fermentation][course][analytic]") {
    const double celsius = 33.0;
    const Fermentation hungry = bath(made_of("grain", 0.6, 0.0), 1.0, 4.0, celsius, {5e-3, 0.0, 1.0}, no_cook::assumptions());
    const double death = hungry.priors[kinetic::death_rate].median * std::exp(-177.7 / 8.314462618e-3 * (1.0 / (celsius + 273.15) - 1.0 / 303.15));
    const double awake = no_cook_kinetics::cardinal(celsius) / hungry.priors[kinetic::lag].median;
    const double decay = hungry.priors[kinetic::enzyme_decay].median * std::exp(-200.0 / 8.314462618e-3 * (1.0 / (celsius + 273.15) - 1.0 / 303.15));
    const std::vector<double> hours = every(10.0, 200.0);
    const auto c = Slopes::of(hungry, Z{});
    const std::vector<State> found = states(c, hours, close_to(1e-10));
    for (std::size_t i = 0; i < hours.size(); ++i) {
        CAPTURE(hours[i]);
        const double alive = 1e-3 * hungry.priors[kinetic::pitched_activity].median;  // 5 g in 5 kg
        CHECK(std::abs(found[i][state::yeast] / (alive * std::exp(-death * hours[i])) - 1.0) <= 1e-7);
        CHECK(std::abs(found[i][state::adapted] - (1.0 - std::exp(-awake * hours[i]))) <= 1e-8);
        CHECK(std::abs(found[i][state::enzyme] - std::exp(-decay * hours[i])) <= 1e-8);
        CHECK(found[i][state::grown] == 0.0);
    }
    Z lasting{};
    lasting[kinetic::death_rate] = far_down;
    lasting[kinetic::growth_limit] = far_up;       // no end to nitrogen
    lasting[kinetic::ethanol_tolerance] = far_up;  // 160 exp(9) g/kg
    const Fermentation f = trade_batch(steady(22.0));
    const auto fed = Slopes::of(f, lasting);
    for (const State& y : states(fed, every(12.0, 96.0), close_to(1e-10))) {
        CHECK(std::abs(y[state::yeast] - fed.yeast_start * fed.p[kinetic::pitched_activity] - y[state::grown]) <= 1e-11);
        // Growth is the yield of what was taken, less what ethanol held back.
        CHECK(y[state::grown] <= fed.p[kinetic::growth_yield] * fed.taken(y) + 1e-12);
    }
}

TEST_CASE("simulate: closer tolerances converge", "[fermentation][course]") {
    const Fermentation f = trade_batch({16.0, Ambient::day_night(17.0, 5.0, 9.0), {Vessel::wood, 60.0, 7.0}});
    const std::vector<double> hours = every(12.0, 240.0);
    const Course best = simulate(f, hours, {}, close_to(1e-12));
    const auto worst = [&](const double relative) {
        const Course k = simulate(f, hours, {}, close_to(relative));
        double off = 0.0;
        for (std::size_t i = 0; i < hours.size(); ++i) {
            off = std::max(off, std::abs(k.at[i].gravity - best.at[i].gravity));
            off = std::max(off, std::abs(k.at[i].free_sugar - best.at[i].free_sugar));
            off = std::max(off, std::abs(k.at[i].conversion - best.at[i].conversion));
            off = std::max(off, 1e-2 * std::abs(k.at[i].temperature_c - best.at[i].temperature_c));
        }
        return off;
    };
    const double coarse = worst(1e-6);
    const double usual = worst(1e-8);
    const double fine = worst(1e-10);
    CAPTURE(coarse, usual, fine);
    // Measured 36, 20 and 79 times the relative tolerance, and up to 116 times between them (1e-9): the equations have kinks where a supply ends, and
    // which side of one a step ends on is chance. The error follows the tolerance over four decades.
    CHECK(coarse <= 150.0 * 1e-6);
    CHECK(usual <= 150.0 * 1e-8);
    CHECK(fine <= 150.0 * 1e-10);
    CHECK(usual < 0.1 * coarse);
    CHECK(fine < 0.1 * usual);
    // The default is the middle one.
    const Course usual_course = simulate(f, hours);
    CHECK(usual_course.steps < simulate(f, hours, {}, close_to(1e-10)).steps);
    CHECK(usual_course.steps > simulate(f, hours, {}, close_to(1e-6)).steps);
    CHECK(std::abs(usual_course.done_h - best.done_h) <= 1e-3);
}

TEST_CASE("simulate: against a Runge-Kutta of fixed step", "[fermentation][course]") {
    const std::vector<double> hours{24.0, 96.0, 240.0};
    const Fermentation batches[] = {trade_batch({18.0, Ambient::day_night(20.0, 5.0, 9.0), {Vessel::bare, 0.0, 12.0}}), sweet_batch(28.0)};
    for (const Fermentation& f : batches) {
        for (const Z& z : {parameter_sets()[0], parameter_sets()[2]}) {
            const auto c = Slopes::of(f, z);
            const Course k = simulate(f, hours, z, close_to(1e-10));
            for (std::size_t i = 0; i < hours.size(); ++i) {
                const WashState there = observe(f, c, classic_runge_kutta(c, hours[i], 0.01), hours[i]);
                const WashState& here = k.at[i];
                CAPTURE(hours[i], here.gravity, there.gravity, here.free_sugar - there.free_sugar, here.temperature_c - there.temperature_c);
                CHECK(std::abs(here.gravity - there.gravity) <= 1e-7);
                CHECK(std::abs(here.abv - there.abv) <= 1e-7);
                CHECK(std::abs(here.free_sugar - there.free_sugar) <= 1e-7);
                CHECK(std::abs(here.conversion - there.conversion) <= 1e-7);
                CHECK(std::abs(here.open_starch / there.open_starch - 1.0) <= 1e-7);
                CHECK(std::abs(here.co2_kg / there.co2_kg - 1.0) <= 1e-7);
                CHECK(std::abs(here.yeast / there.yeast - 1.0) <= 1e-7);
                CHECK(std::abs(here.temperature_c / there.temperature_c - 1.0) <= 1e-7);
            }
        }
    }
}

TEST_CASE("simulate: done is when the last of the two thresholds is passed", "[fermentation][course]") {
    constexpr double h = 1e-4;
    // Starch is last.
    const Fermentation f = trade_batch(steady(25.0));
    const Course k = simulate(f, {400.0});
    REQUIRE(std::isfinite(k.done_h));
    const Course starch = simulate(f, {k.done_h - h, k.done_h, k.done_h + h});
    CAPTURE(k.done_h, starch.at[0].open_starch, starch.at[2].open_starch);
    CHECK(starch.at[0].open_starch > iodine_test::threshold);
    CHECK(starch.at[2].open_starch < iodine_test::threshold);
    CHECK(std::abs(starch.at[1].open_starch - iodine_test::threshold) <= 1e-6);
    CHECK(starch.at[0].free_sugar < done_sugar);
    CHECK(std::abs(starch.done_h - k.done_h) <= 1e-5);
    CHECK(std::abs(iodine_test::chance_positive(starch.at[1].open_starch) - 0.5) <= 1e-6);
    // Sugar is last.
    const Fermentation g = bath(made_of("sugar", 0.0, 1.0), 0.1, 0.9, 25.0, {1e-3, 1.0, 1.0}, no_cook::assumptions());
    const double end = simulate(g, {400.0}).done_h;
    REQUIRE(std::isfinite(end));
    const Course sugar = simulate(g, {end - h, end, end + h});
    CHECK(sugar.at[0].free_sugar > done_sugar);
    CHECK(sugar.at[2].free_sugar < done_sugar);
    CHECK(std::abs(sugar.at[1].free_sugar - done_sugar) <= 1e-7);
    CHECK(sugar.at[1].open_starch == 0.0);
    // Not within the times asked for: not a number.
    CHECK(std::isnan(simulate(f, {k.done_h - 1.0}).done_h));
    CHECK(done(0.99, 0.0009));
    CHECK(!done(1.0, 0.0));
    CHECK(!done(0.0, done_sugar));
}

TEST_CASE("iodine test: one half at the threshold, a factor of three a spread", "[fermentation][course]") {
    CHECK(iodine_test::chance_positive(0.0) == 0.0);
    CHECK(iodine_test::chance_positive(-1.0) == 0.0);
    CHECK(std::abs(iodine_test::chance_positive(1.0) - 0.5) <= 1e-15);
    // The normal distribution at one standard deviation: 84.13 and 15.87 %.
    CHECK(std::abs(iodine_test::chance_positive(std::exp(1.1)) - 0.8413) <= 0.0001);
    CHECK(std::abs(iodine_test::chance_positive(std::exp(-1.1)) - 0.1587) <= 0.0001);
    CHECK(std::abs(std::exp(iodine_test::threshold_spread) - 3.0) <= 0.01);
    CHECK(iodine_test::chance_positive(1000.0) > 0.9999);
    CHECK(std::isnan(iodine_test::chance_positive(nan_value)));
}

TEST_CASE("course: eight parameter sets side by side give what each gives alone", "[fermentation][course][lanes]") {
    const Fermentation f = trade_batch({19.0, Ambient::day_night(18.0, 4.0, 10.0), {Vessel::wood, 80.0, 8.0}});
    kinetic_values<Lanes> z;
    std::array<Z, 8> alone;
    for (std::size_t i = 0; i < kinetic::count; ++i) {
        for (Eigen::Index n = 0; n < 8; ++n) {
            const double x = std::sin(static_cast<double>(n) + 0.7 * static_cast<double>(i));
            z[i][n] = x;
            alone[static_cast<std::size_t>(n)][i] = x;
        }
    }
    using LaneState = std::array<Lanes, state::count>;
    const auto together = fermentation_course<Lanes>::of(f, z);
    LaneState y;
    LaneState slope;
    together.start(y);
    // Somewhere on the way, the same shares of it in every lane.
    y[state::slow_starch] *= 0.6;
    y[state::fast_starch] *= 0.2;
    y[state::sugar] += 0.02;
    y[state::adapted] += 0.7;
    y[state::temperature] += 1.5;
    together(y, slope, 9.0);
    const wash_masses<Lanes> m = together.stage(y);
    for (Eigen::Index n = 0; n < 8; ++n) {
        const auto c = Slopes::of(f, alone[static_cast<std::size_t>(n)]);
        State one;
        State one_slope;
        for (int i = 0; i < components; ++i) one[i] = y[static_cast<std::size_t>(i)][n];
        c(one, one_slope, 9.0);
        for (int i = 0; i < components; ++i) {
            CAPTURE(n, i, one_slope[i]);
            CHECK(std::abs(slope[static_cast<std::size_t>(i)][n] - one_slope[i]) <= 1e-12 * (std::abs(one_slope[i]) + 1e-3));
        }
        CHECK(std::abs(m.total()[n] - 1.0) <= 1e-12);
        CHECK(std::abs(m.ethanol[n] - c.stage(one).ethanol) <= 1e-14);
    }
}

TEST_CASE("course: a no-cook mash of the trade", "[fermentation][course]") {
    // Common practice, no source: flaked barley and rye with a little malt in 72 L of water, 30 g of yeast. It works hard by the next day, is done
    // within a fortnight, ends below 1.000 and no longer turns iodine dark. At 18, 20, 22 and 25 degC the medians give 0.45, 0.62, 0.78 and 0.95 of their
    // largest gas after 24 h, and are done after 7.8, 6.7, 5.8 and 4.9 days, at 0.9968 and 8.0 % vol.
    for (const double celsius : {18.0, 20.0, 22.0, 25.0}) {
        const Course k = simulate(trade_batch(steady(celsius)), every(1.0, 336.0));
        double peak = 0.0;
        for (const WashState& s : k.at) peak = std::max(peak, s.co2_l_per_h);
        CAPTURE(celsius, peak, k.at[24].co2_l_per_h, k.at[36].co2_l_per_h, k.done_h, k.at.back().gravity, k.at.back().open_starch);
        CHECK(k.at[24].co2_l_per_h >= 0.4 * peak);
        CHECK(k.at[36].co2_l_per_h >= 0.6 * peak);
        CHECK(k.done_h > 3.0 * 24.0);  // and not in a weekend
        CHECK(k.done_h <= 14.0 * 24.0);
        CHECK(k.at.back().gravity < 1.000);
        CHECK(iodine_test::chance_positive(k.at.back().open_starch) < 0.5);
        CHECK(k.at.back().abv > 0.06);
    }
}

TEST_CASE("course: what slows a fermentation slows the model", "[fermentation][course]") {
    const std::vector<double> hours{24.0, 72.0, 168.0, 1000.0};
    const auto run = [&](const Conditions& c, const Inoculum& inoculum = trade_inoculum) { return simulate(trade_batch(c, inoculum), hours); };
    const auto ethanol = [](const Course& k, const std::size_t i) { return k.at[i].ethanol_kg; };

    double before = infinite;
    for (const double celsius : {10.0, 14.0, 18.0, 22.0, 26.0, 30.0}) {  // warmer is faster all the way
        const Course k = run(steady(celsius));
        CAPTURE(celsius, k.done_h);
        CHECK(k.done_h < before);
        before = k.done_h;
    }
    CHECK(ethanol(run(steady(14.0)), 0) < 0.5 * ethanol(run(steady(24.0)), 0));

    // A shed with cold nights, and the same in the sun; an insulated vessel keeps its own heat.
    const Ambient nights = Ambient::day_night(13.0, 7.0, 8.0);
    const Course shed = run({18.0, nights, {Vessel::bare, 0.0, 6.0}});
    const Course sun = run({18.0, nights, {Vessel::bare, 150.0, 6.0}});
    const Course wrapped = run({18.0, nights, {Vessel::insulated, 0.0, 6.0}});
    CAPTURE(shed.done_h, sun.done_h, wrapped.done_h);
    CHECK(sun.done_h < shed.done_h);
    CHECK(wrapped.done_h < shed.done_h);
    CHECK(sun.at[1].temperature_c > shed.at[1].temperature_c + 1.0);
    CHECK(ethanol(sun, 1) > ethanol(shed, 1));

    // A tenth of the yeast starts later and ends the same; its starch is dissolved by the same enzymes.
    const Course full = run(steady(20.0));
    const Course little_yeast = run(steady(20.0), {0.003, 1.0, 1.0});
    CHECK(ethanol(little_yeast, 0) < 0.3 * ethanol(full, 0));
    CHECK(little_yeast.done_h > full.done_h);
    CHECK(std::abs(ethanol(little_yeast, 3) / ethanol(full, 3) - 1.0) <= 1e-3);

    // Half the enzyme hardly delays the start, but the end; none at all leaves the starch alone and ferments the grain's own sugar.
    const Course little_enzyme = run(steady(20.0), {0.03, 0.5, 1.0});
    CHECK(little_enzyme.done_h > 1.3 * full.done_h);
    CHECK(ethanol(little_enzyme, 2) < ethanol(full, 2));
    CHECK(little_enzyme.at[2].open_starch > full.at[2].open_starch);
    const Fermentation bare = trade_batch(steady(20.0), {0.03, 0.0, 1.0});
    const WashState none = simulate(bare, hours).at[3];
    CHECK(none.conversion == 0.0);
    CHECK(std::abs(none.ethanol_kg - bare.priors[kinetic::fermentation_yield].median * stoichiometry::ethanol_per_glucose * bare.masses.hexose_of_sugars) <=
          1e-6);

    // Nutrients help the yeast, never the starch.
    const Course fed = run(steady(20.0), {0.03, 1.0, 2.6});
    CHECK(fed.done_h < full.done_h);
    CHECK(ethanol(fed, 1) > ethanol(full, 1));

    // Flakes go faster than the same grain milled raw.
    const auto open_after_a_day = [](const char* form) {
        return simulate(bath(made_of(form, 0.6, 0.0), 1.0, 4.0, 20.0, {1.5e-3, 1.0, 1.0}, no_cook::assumptions()), {24.0}).at[0].open_starch;
    };
    CHECK(open_after_a_day("gelatinised") < open_after_a_day("flakes"));
    CHECK(open_after_a_day("flakes") < open_after_a_day("grain"));
}

TEST_CASE("course: one spread of each parameter moves the end the right way", "[fermentation][course]") {
    const Fermentation f = trade_batch(steady(20.0));
    const auto run = [&](const kinetic::index i, const double spreads) {
        Z z{};
        z[i] = spreads;
        return simulate(f, {48.0, 400.0}, z);
    };
    // What makes it end sooner when there is more of it, and what makes it end later. Warmer air is faster, a wall that loses more is colder.
    for (const kinetic::index i : {kinetic::hydrolysis_rate, kinetic::fast_share, kinetic::glucose_inhibition, kinetic::uptake_rate, kinetic::growth_yield,
                                   kinetic::growth_limit, kinetic::pitched_activity, kinetic::ethanol_tolerance, kinetic::ambient_offset}) {
        CAPTURE(std::string(kinetic_table[i].name));
        CHECK(run(i, 1.0).done_h < run(i, -1.0).done_h);
        CHECK(run(i, 1.0).at[0].ethanol_kg > run(i, -1.0).at[0].ethanol_kg);
    }
    for (const kinetic::index i :
         {kinetic::hydrolysis_activation_energy, kinetic::enzyme_decay, kinetic::lag, kinetic::death_rate, kinetic::temperature_exponent, kinetic::heat_loss}) {
        CAPTURE(std::string(kinetic_table[i].name));
        CHECK(run(i, 1.0).done_h > run(i, -1.0).done_h);
        CHECK(run(i, 1.0).at[0].ethanol_kg < run(i, -1.0).at[0].ethanol_kg);
    }
    CHECK(run(kinetic::dose_exponent, 1.0).done_h == run(kinetic::dose_exponent, -1.0).done_h);  // at the full dose
    CHECK(run(kinetic::fermentation_yield, 1.0).at[1].abv > run(kinetic::fermentation_yield, -1.0).at[1].abv);
    CHECK(run(kinetic::fermentation_yield, 1.0).at[1].gravity < run(kinetic::fermentation_yield, -1.0).at[1].gravity);
    CHECK(run(kinetic::conversion_limit, 1.0).at[1].abv > run(kinetic::conversion_limit, -1.0).at[1].abv);
    CHECK(run(kinetic::starch_content, 1.0).at[1].abv > run(kinetic::starch_content, -1.0).at[1].abv);
    CHECK(run(kinetic::soluble_share, 1.0).at[1].gravity > run(kinetic::soluble_share, -1.0).at[1].gravity);
    CHECK(run(kinetic::dissolved_share, 1.0).at[1].gravity > run(kinetic::dissolved_share, -1.0).at[1].gravity);
}

namespace {

/// Cooked wheat mash of Thomas and Ingledew: so many grams of dissolved solids in 100 mL, of which the fermentable part is what made 17.1 % vol of
/// 35 g per 100 mL (E44) at the efficiency of the library; the rest stays dissolved. 35 g in 100 mL weigh 113 g, 21 g 108 g (sucrose scale).
Fermentation cooked_wheat(const std::string& form, const double solids_per_100_ml, const double celsius, const double yeast_per_l, const double nutrients) {
    const double ethanol = row_of("end_points.csv", "E44").number("ethanol_value") * 0.01 * volume_at_20c::ethanol_density;  // g/L
    const double hexose = ethanol / (no_cook::fermentation_efficiency().value * stoichiometry::ethanol_per_glucose);
    const double fermentable = hexose / 350.0;
    const double litre_kg = solids_per_100_ml > 30.0 ? 1.13 : 1.08;
    const double solids = 0.01 * solids_per_100_ml;
    const Grain mash = form == "sugar" ? made_of(form, 0.0, fermentable) : made_of(form, fermentable / stoichiometry::glucose_per_starch, 0.0);
    Assumptions all = no_cook::assumptions();
    all.conversion = {1.0, 0.0};
    all.soluble_share_of_rest = {1.0, 0.0};
    return bath(mash, solids, litre_kg - solids, celsius, {yeast_per_l * 1e-3, 1.0, nutrients}, all);
}

}  // namespace

TEST_CASE("course: cooked wheat at 20 degC against its published times", "[fermentation][course][published]") {
    // Thomas, Ingledew 1990 (T27, T28): 35 g dissolved solids in 100 mL, all fermentable sugar used in 192 h, in 72 h with yeast extract. The pitch is
    // not stated in the part read: 0.2 to 1 g/L is taken, the usual of active dry yeast. Enzymes of a cooked mash are not those of raw granules, so
    // that the sugar is taken as free from the start: this tests the yeast alone.
    CHECK(progress_row("T27").number("value") == 0.0);
    const double slow_h = progress_row("T27").number("time_h");
    const double fast_h = progress_row("T28").number("time_h");
    for (const double pitch : {0.2, 0.5, 1.0}) {
        const Course poor = simulate(cooked_wheat("sugar", 35.0, 20.0, pitch, 1.0), {fast_h, slow_h});
        const Course fed = simulate(cooked_wheat("sugar", 35.0, 20.0, pitch, 2.6), {fast_h, slow_h});
        CAPTURE(pitch, poor.done_h, fed.done_h, 1000.0 * fed.at[0].free_sugar);
        // Without nutrients: done within the published 192 h, early by a sixth to a third (162, 145 and 127 h; two thirds is the lower bound, since the
        // uptake of 2.3 that was fitted to another work brought 1 g/L from 146 to 127 h), and far from it after 72 h, as published (119, 91, 67 g/kg left).
        CHECK(poor.done_h <= slow_h);
        CHECK(poor.done_h > 0.66 * slow_h);
        CHECK(poor.at[0].free_sugar > 0.06);
        // 17.1 % vol (T28, E44): the liquid is lighter by its gas at the end, so that a little more is found.
        CHECK(std::abs(100.0 * poor.at[1].abv - 17.1) <= 0.5);
        // With nutrients the model disagrees: 2.6 times the yeast may grow, but it needs 121, 108 and 97 h where 72 were published, with 82, 54 and
        // 32 g/kg of sugar left then. Nutrients save a quarter of its time, and published was five eighths.
        CHECK(fed.done_h < 0.8 * poor.done_h);
        CHECK(fed.done_h > 1.3 * fast_h);
        CHECK(fed.done_h < 1.7 * fast_h);
    }
    // One spread up in uptake, growth yield and growth limit together meets the published time at 1 g/L: it lies within the width of a forecast.
    Z keen{};
    keen[kinetic::uptake_rate] = 1.0;
    keen[kinetic::growth_yield] = 1.0;
    keen[kinetic::growth_limit] = 1.0;
    const Course keen_course = simulate(cooked_wheat("sugar", 35.0, 20.0, 1.0, 2.6), {fast_h, slow_h}, keen);
    CAPTURE(keen_course.done_h);
    CHECK(keen_course.done_h <= fast_h);
    // As gelatinised starch under the enzymes of the model: 201, 187 and 173 h at 0.2, 0.5 and 1 g/L, where 192 were published without nutrients.
    const Course starch = simulate(cooked_wheat("gelatinised", 35.0, 20.0, 0.5, 1.0), {slow_h, 400.0});
    CAPTURE(starch.done_h, starch.at[0].free_sugar);
    CHECK(starch.at[0].free_sugar < done_sugar);
    CHECK(std::abs(starch.done_h / slow_h - 1.0) <= 0.03);
}

TEST_CASE("course: cooked wheat at 30 degC against its published time", "[fermentation][course][published]") {
    // Narendranath, Thomas, Ingledew 2000 (T33): 21 g dissolved solids in 100 mL, complete in 36 h; pitch not stated in the part read, 0.2 to 1 g/L taken. The
    // model disagrees: 53, 45 and 38 h with sugar free from the start, 0.62 to 0.96 of the gas made in 36 h.
    const double hours = progress_row("T33").number("time_h");
    CHECK(hours == 36.0);
    double before = infinite;
    for (const double pitch : {0.2, 0.5, 1.0}) {
        const Course k = simulate(cooked_wheat("sugar", 21.0, 30.0, pitch, 1.0), {hours, 200.0});
        CAPTURE(pitch, k.done_h, k.at[0].co2_kg / k.at[1].co2_kg);
        CHECK(k.done_h > hours);
        CHECK(k.done_h < 1.5 * hours);
        CHECK(k.done_h < before);
        before = k.done_h;
    }
    Z keen{};
    keen[kinetic::uptake_rate] = 1.0;
    keen[kinetic::growth_limit] = 1.0;
    const Course keen_course = simulate(cooked_wheat("sugar", 21.0, 30.0, 1.0, 1.0), {hours, 200.0}, keen);
    CAPTURE(keen_course.done_h);
    CHECK(keen_course.done_h <= hours);  // one spread in uptake and growth limit meets it
}

TEST_CASE("course: dense yeast on hydrolysate is an upper bound of the rate", "[fermentation][course][published]") {
    // Barcelos et al. 2011 (T29): about 250 g/L glucose, 106 g/L ethanol in 24 h with an industrial yeast whose amount is not stated in the part read.
    // The model makes as much within a day with 10 g/L of dry yeast and more (123 g/L), not with 5 or 1 g/L (99 and 51); 30 degC is taken.
    const double published = progress_row("T29").number("value");
    const auto after_a_day = [](const double yeast_per_l) {
        const Fermentation f = bath(made_of("sugar", 0.0, 1.0), 0.25, 0.845, 30.0, {yeast_per_l * 1e-3, 1.0, 1.0}, no_cook::assumptions());
        return simulate(f, {24.0}).at[0].abv * volume_at_20c::ethanol_density;  // g/L
    };
    CAPTURE(after_a_day(1.0), after_a_day(5.0), after_a_day(10.0), after_a_day(25.0));
    CHECK(after_a_day(1.0) < 0.5 * published);
    CHECK(after_a_day(5.0) < published);
    CHECK(after_a_day(10.0) > published);
    CHECK(after_a_day(25.0) > published);
    CHECK(after_a_day(25.0) <= 250.0 * stoichiometry::ethanol_per_glucose);
}

TEST_CASE("course: dense yeast on sugar against a published course", "[fermentation][course][published]") {
    // Oliveira et al. 2016: 111.5 g/L sugar, 25 g/L cells; temperature not stated in the part seen, 32 degC taken. All cells active and adapted; the medium
    // of sugar does not limit growth as a grain does. Ethanol per sugar is the published 45.4/111.5 = 0.407 g/g, 80 % of theory where the library
    // has 96 %. Rms of the model here 6.0 sugar, 1.2 cells, 5.0 ethanol; of the published model 2.5, 2.0, 4.5 g/L (K18 to K24, integrated: 2.6, 2.0, 4.4),
    // all of whose constants were fitted to these points. Here the uptake was, to the sugar alone (2.26, rounded to 2.3): that took sugar from 6.8 to
    // 6.0 and ethanol from 3.9 to 5.0, since published sugar and ethanol do not keep one ratio on the way. Reading the points off adds 1 g/L.
    const double sugar = 111.5;
    double water = 0.93;
    for (int i = 0; i < 20; ++i) water = wash::density(0.0, 0.1115 / (0.1115 + water), 32.0) * 1e-3 - 0.1115;  // of one litre
    const Fermentation f = bath(made_of("sugar", 0.0, 1.0), 0.1115, water, 32.0, {0.025, 1.0, 10.0}, no_cook::assumptions());
    double last = 0.0;
    for (const Row& row : read_table("no_cook_fermentation/yeast_on_sugar_timecourse_digitised.csv")) {
        if (row.text("id") == "G26") last = row.number("value");
    }
    Z z{};
    z[kinetic::fermentation_yield] = (std::log(last / sugar / stoichiometry::ethanol_per_glucose / (1.0 - last / sugar / stoichiometry::ethanol_per_glucose)) -
                                      std::log(f.priors[kinetic::fermentation_yield].median / (1.0 - f.priors[kinetic::fermentation_yield].median))) /
                                     f.priors[kinetic::fermentation_yield].spread;
    z[kinetic::pitched_activity] = spreads_of(kinetic::pitched_activity, 1.0);
    z[kinetic::lag] = spreads_of(kinetic::lag, 0.005);
    const auto compare = [&](const std::string& quantity, const Z& at) {
        std::vector<double> hours;
        std::vector<double> off;
        std::vector<double> seen;
        for (const Row& row : read_table("no_cook_fermentation/yeast_on_sugar_timecourse_digitised.csv")) {
            if (row.text("quantity") != quantity) continue;
            hours.push_back(row.number("time_h"));
            seen.push_back(row.number("value"));
        }
        const Course k = simulate(f, hours, at);
        for (std::size_t i = 0; i < hours.size(); ++i) {
            const WashState& s = k.at[i];
            const double share = quantity == "cells" ? 1e-3 * s.yeast : quantity == "ethanol" ? s.abw : s.free_sugar;
            off.push_back(share * s.density - seen[i]);
        }
        return root_mean_square(off);
    };
    const double cells = compare("cells", z);
    const double ethanol = compare("ethanol", z);
    const double sugar_rms = compare("sugar", z);
    CAPTURE(cells, ethanol, sugar_rms);
    CHECK(cells <= 2.0);
    CHECK(ethanol <= 5.1);
    CHECK(sugar_rms <= 6.1);
}
