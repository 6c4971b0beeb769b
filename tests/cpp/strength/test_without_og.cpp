// Strength without original gravity: every route finds the wash its readings were computed from, its doubt is what the readings' doubt makes,
// and published analyses come out where their own figures allow.

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <ferment/strength/without_og.hpp>
#include <functional>
#include <map>
#include <random>
#include <string>
#include <utility>
#include <vector>

#include "catch.hpp"
#include "csv.hpp"
#include "liquid/checks.hpp"

using namespace ferment;
using namespace ferment_test;

namespace {

constexpr double percent = 100.0;
constexpr double at_20 = 20.0;
constexpr double kilopascal_pa = 1e3;
constexpr double boiling_formula_k = 0.17;  // 0.3 K either way (wash_vapour, below 13 % mass) as a rectangular spread

Uncertain reading(const double value, const double doubt, const char* name) {
    return Uncertain::input(value, doubt, name);
}
Uncertain gravity_of(const double sg) {
    return reading(sg, 5e-4, "gravity");
}
Uncertain index_of(const double n) {
    return reading(n, 1.5e-4, "refractive index");
}
Uncertain index_at_brix(const double brix) {
    return index_of(sucrose_refraction::index(brix / percent, at_20));
}

template <class F>
std::string input_error(const F& call) {
    try {
        call();
    } catch (const InputError& error) {
        return error.what();
    }
    return "no InputError";
}

bool contains(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

/// The root of a rising f.
template <class F>
double bisect(const F& f, double lower, double upper) {
    for (int i = 0; i < 100; ++i) {
        const double middle = 0.5 * (lower + upper);
        (f(middle) < 0.0 ? lower : upper) = middle;
    }
    return 0.5 * (lower + upper);
}

/// Strength by mass of extract and water alone that holds the extract of a wash in the same volume.
double made_up_to_volume(const double e, const double x) {
    const double per_volume = x * wash::density(e, x, at_20);
    return bisect([&](const double w) { return w * icumsa_sps4::density(w, at_20) - per_volume; }, 0.0, 0.5);
}

double contribution_of(const Uncertain& result, const std::string& name) {
    double sum = 0.0;
    for (const contribution& c : result.budget()) {
        if (c.name == name) sum += c.amount;
    }
    return sum;
}

/// An ordinary wash, lighter than water, and all that can be read of it.
struct Readings {
    double e, x, sg, n, abv;
    Readings(const double ethanol, const double extract_by_mass)
        : e(ethanol), x(extract_by_mass), sg(wash::gravity_20_20(e, x)), n(wash_refraction::index(e, x, at_20)), abv(wash::abv(e, x)) {}
    [[nodiscard]] double boiled_by_volume() const { return wash::gravity_20_20(0.0, made_up_to_volume(e, x)); }
    [[nodiscard]] double boiled_by_mass() const { return wash::gravity_20_20(0.0, x); }
    [[nodiscard]] double boils_at(const double kpa) const { return wash_vapour::bubble_point(e, x, kpa * kilopascal_pa).boiling_c; }
};
const Readings ordinary(0.0637, 0.0195);

using Route = std::function<FoundStrength(const Readings&)>;

/// The routes whose readings can be computed from a wash exactly.
std::map<std::string, Route> exact_routes() {
    std::map<std::string, Route> routes;
    routes["hydrometer and refractometer"] = [](const Readings& r) { return strength_from_hydrometer_and_refractometer(gravity_of(r.sg), index_of(r.n)); };
    routes["boiled down, made up to volume"] = [](const Readings& r) {
        return strength_from_boiled_down(gravity_of(r.sg), reading(r.boiled_by_volume(), 5e-4, "gravity after"));
    };
    routes["boiled down, made up to mass"] = [](const Readings& r) {
        return strength_from_boiled_down(gravity_of(r.sg), reading(r.boiled_by_mass(), 5e-4, "gravity after"), made_up_to::mass);
    };
    for (const int kpa : {20, 70, 101, 110}) {
        routes["boiling point at " + std::to_string(kpa) + " kPa"] = [kpa](const Readings& r) {
            return strength_from_boiling_point(reading(r.boils_at(kpa), 0.1, "boiling point"), reading(kpa, 0.1, "pressure"), gravity_of(r.sg));
        };
    }
    routes["distilled sample"] = [](const Readings& r) {
        return strength_from_distilled_sample(reading(r.abv * 2.5 * 0.98, 0.002, "alcoholometer"), reading(100.0, 0.3, "distillate"),
                                              reading(250.0, 0.5, "sample"), gravity_of(r.sg), {0.98, 0.003});
    };
    return routes;
}

}  // namespace

// ---- round trips --------------------------------------------------------------------------------------------------------------------

TEST_CASE("without original gravity: every route finds the wash it was computed from", "[strength][without_og][identity]") {
    constexpr double tolerance = 1e-9;
    int lighter_than_water = 0;
    for (const auto& [name, route] : exact_routes()) {
        Worst worst;
        for (int i = 0; i <= 14; ++i) {
            for (int j = 0; j <= 12; ++j) {
                const Readings r(0.01 * i, 0.01 * j);
                lighter_than_water += r.sg < 1.0 ? 1 : 0;
                const FoundStrength found = route(r);
                CAPTURE(name, r.e, r.x);
                worst.add(found.abw.value() - r.e);
                worst.add(found.real_extract.value() - r.x);
                worst.add(found.abv.value() - r.abv);
                CHECK(begins(name, found.route));
                CHECK(found.abv.standard_uncertainty() > 0.0);
            }
        }
        CAPTURE(name, worst.value);
        CHECK(worst.rows == 3 * 15 * 13);
        CHECK(worst.value <= tolerance);
    }
    CHECK(lighter_than_water > 8 * 30);
}

TEST_CASE("without original gravity: unfermented wort has no strength within its doubt", "[strength][without_og]") {
    for (const double x : {0.0, 0.03, 0.12, 0.20}) {
        const Readings wort(0.0, x);
        for (const double off : {-1.0, 0.0, 1.0}) {
            // Each reading one standard uncertainty off. Water boiled down reads no less than water.
            const double sg = wort.sg + off * 5e-4;
            const FoundStrength seen = strength_from_hydrometer_and_refractometer(gravity_of(sg), index_of(wort.n));
            const FoundStrength boiled = strength_from_boiled_down(gravity_of(sg), reading(wort.boiled_by_volume(), 5e-4, "gravity after"));
            const FoundStrength boiling = strength_from_boiling_point(reading(wort.boils_at(101.0) + 0.1 * off, 0.1, "boiling point"),
                                                                      reading(101.0, 0.1, "pressure"), gravity_of(wort.sg));
            for (const FoundStrength& f : {seen, boiled, boiling}) {
                CAPTURE(f.route, x, off, f.abv.value(), f.abv.standard_uncertainty());
                CHECK(std::abs(f.abv.value()) <= f.abv.standard_uncertainty());
                CHECK(std::abs(f.real_extract.value() - x) <= f.real_extract.standard_uncertainty() + 1e-12);
            }
        }
    }
}

TEST_CASE("without original gravity: Tabarie's rule against the exact boiled-down route", "[strength][without_og]") {
    // A first order: of the readings of an exact wash it finds less by the product of both shares. To 9 % mass and 6 % extract it is never more
    // than 0.06 % vol off, less than what 0.0001 of gravity makes; without one of the two it is exact.
    Worst worst;
    for (int i = 0; i <= 9; ++i) {
        for (int j = 0; j <= 6; ++j) {
            const Readings r(0.01 * i, 0.01 * j);
            const Uncertain after = reading(r.boiled_by_volume(), 5e-4, "gravity after");
            const double low = strength_from_boiled_down(gravity_of(r.sg), after).abv.value() - strength_by_tabarie(gravity_of(r.sg), after).abv.value();
            CAPTURE(r.e, r.x, low);
            if (i == 0 || j == 0) {
                CHECK(std::abs(low) <= 1e-9);
            } else {
                worst.add(low);
            }
        }
    }
    CAPTURE(percent * worst.value);
    CHECK(percent * worst.value <= 0.06);
    CHECK(percent * worst.value >= 0.03);
}

TEST_CASE("carbon dioxide lost: the balance re-derived", "[strength][without_og][identity]") {
    // What a mole of gas takes along at half of the final ethanol, and what stays of what was made; the route has to work from the loss alone, so
    // it may be off by what it itself doubts of these two.
    constexpr double litres = 75.0;
    Worst furthest[2];
    const double full_per_kg = carbon_dioxide::saturation(at_20);
    const double per_ethanol = 0.5 * (46.6 / 48.4 + stoichiometry::carbon_dioxide / stoichiometry::ethanol);
    for (const bool airlock : {true, false}) {
        for (int i = 1; i <= 14; ++i) {
            for (const double x : {0.0, 0.02, 0.08}) {
                const Readings r(0.01 * i, x);
                const double water_kg = litres * 0.9982;
                const double ethanol_kg = r.abv * litres * volume_at_20c::ethanol_density * 1e-3;
                const double made = per_ethanol * ethanol_kg;
                const double full = full_per_kg * water_kg;
                const double gone = made - full * (1.0 - std::exp(-made / full));
                const double z = wash_vapour::mole_fraction(0.5 * ethanol_kg / water_kg);
                constexpr double air = 101325.0;
                const double water_pa = (1.0 - z) * dippr101_water::vapour_pressure(at_20);
                const double ethanol_pa = 5.0 * z * dippr101_ethanol::vapour_pressure(at_20);
                const double along = water_pa / (air - water_pa) * stoichiometry::water / stoichiometry::carbon_dioxide +
                                     ethanol_pa / (air - ethanol_pa) * stoichiometry::ethanol / stoichiometry::carbon_dioxide;
                GasLoss loss{reading(gone * (airlock ? 1.0 + along : 1.0), 0.05, "mass lost"), reading(litres, 1.0, "volume of wash")};
                loss.airlock = airlock;
                const FoundStrength f = strength_from_carbon_dioxide_lost(loss, gravity_of(r.sg));
                const double allowed =
                    std::abs(contribution_of(f.abv, "solubility of carbon dioxide")) + std::abs(contribution_of(f.abv, "ethanol carried off"));
                CAPTURE(airlock, r.e, x, f.abv.value() - r.abv, allowed);
                CHECK(std::abs(f.abv.value() - r.abv) <= allowed);
                CHECK(allowed <= 0.0012);  // 0.12 % vol at 18 % vol
                const detail::composition<double> found{f.abw.value(), f.real_extract.value()};
                CHECK(std::abs(detail::raw_gravity(found) - r.sg) <= 1e-12);
                furthest[i > 1].add(f.abv.value() - r.abv);
                if (!airlock) {
                    CHECK(std::abs(f.abv.value() - r.abv) <= 2e-6);
                }
            }
        }
    }
    // In fact it is nearer: within 0.001 % vol.
    CAPTURE(furthest[0].value, furthest[1].value);
    CHECK(furthest[0].value <= 2e-6);
    CHECK(furthest[1].value <= 1e-5);
    // The first grams stay in the wash: what has hardly gone yet was mostly made and kept. Nothing at all says nothing.
    const FoundStrength few =
        strength_from_carbon_dioxide_lost({reading(0.001, 0.0005, "mass lost"), reading(litres, 1.0, "volume of wash")}, gravity_of(1.050));
    CHECK(few.abv.value() > 0.0);
    CHECK(few.abv.value() <= full_per_kg / per_ethanol * 998.2 / volume_at_20c::ethanol_density);
    // The same loss from twice the wash, with all else in proportion.
    const auto abv_of = [](const double scale) {
        return strength_from_carbon_dioxide_lost({reading(4.0 * scale, 0.0, "mass lost"), reading(75.0 * scale, 0.0, "volume of wash")}, gravity_of(1.0))
            .abv.value();
    };
    CHECK(std::abs(abv_of(2.0) - abv_of(1.0)) <= 1e-14);
}

// ---- doubt --------------------------------------------------------------------------------------------------------------------------

namespace {

/// One input as a reader has it.
struct Input {
    const char* name;
    double value, doubt;
};

using Reader = std::function<FoundStrength(const std::vector<Uncertain>&)>;

FoundStrength read_with(const Reader& reader, const std::vector<Input>& inputs, const std::size_t moved, const double by) {
    std::vector<Uncertain> u;
    for (std::size_t i = 0; i < inputs.size(); ++i) {
        u.push_back(reading(inputs[i].value + (i == moved ? by : 0.0), inputs[i].doubt, inputs[i].name));
    }
    return reader(u);
}

/// Derivatives of a result with an input, by a central difference of the whole route.
struct Slopes {
    double abv, abw, extract;
};
Slopes slopes_of(const Reader& reader, const std::vector<Input>& inputs, const std::size_t i) {
    const double step = 0.01 * inputs[i].doubt;
    const FoundStrength up = read_with(reader, inputs, i, step);
    const FoundStrength down = read_with(reader, inputs, i, -step);
    const auto slope = [step](const Uncertain& a, const Uncertain& b) { return (a.value() - b.value()) / (2.0 * step); };
    return {slope(up.abv, down.abv), slope(up.abw, down.abw), slope(up.real_extract, down.real_extract)};
}

/// The contribution is slope x standard uncertainty, within 1e-4 of itself or of the noise of the difference.
void check_contribution(const Uncertain& result, const std::string& name, const double slope, const double doubt) {
    const double amount = contribution_of(result, name);
    CAPTURE(name, amount, slope * doubt);
    CHECK(std::abs(amount - slope * doubt) <= 1e-4 * std::abs(slope * doubt) + 1e-11);
}

/// Every input of the reader, and hidden ones that act as one of them does.
struct Hidden {
    const char* name;
    double doubt;
    std::size_t like;
};
void check_doubt(const Reader& reader, const std::vector<Input>& inputs, const std::vector<Hidden>& hidden) {
    const FoundStrength f = read_with(reader, inputs, inputs.size(), 0.0);
    CAPTURE(f.route);
    for (std::size_t i = 0; i < inputs.size(); ++i) {
        const Slopes s = slopes_of(reader, inputs, i);
        check_contribution(f.abv, inputs[i].name, s.abv, inputs[i].doubt);
        check_contribution(f.abw, inputs[i].name, s.abw, inputs[i].doubt);
        check_contribution(f.real_extract, inputs[i].name, s.extract, inputs[i].doubt);
    }
    for (const Hidden& h : hidden) {
        const Slopes s = slopes_of(reader, inputs, h.like);
        check_contribution(f.abv, h.name, s.abv, h.doubt);
        check_contribution(f.abw, h.name, s.abw, h.doubt);
        check_contribution(f.real_extract, h.name, s.extract, h.doubt);
    }
}

}  // namespace

TEST_CASE("without original gravity: doubt is the slope of the whole route", "[strength][without_og][uncertain]") {
    // The formulas' doubts act where the readings do: that of the density like the gravity, that of the refraction like the index.
    for (const auto& [e, x] : {std::pair{0.0637, 0.0195}, {0.03, 0.07}, {0.11, 0.004}}) {
        const Readings r(e, x);
        const Input gravity{"gravity", r.sg, 5e-4};
        const Hidden density{"density formula", density_of_washes_uncertainty, 0};
        CAPTURE(e, x);
        check_doubt([](const auto& in) { return strength_from_hydrometer_and_refractometer(in[0], in[1]); }, {gravity, {"refractive index", r.n, 1.5e-4}},
                    {density, {"refraction formula", wash_refraction::standard_uncertainty, 1}});
        check_doubt([](const auto& in) { return strength_from_boiled_down(in[0], in[1]); }, {gravity, {"gravity after", r.boiled_by_volume(), 4e-4}},
                    {density});
        check_doubt([](const auto& in) { return strength_from_boiled_down(in[0], in[1], made_up_to::mass); },
                    {gravity, {"gravity after", r.boiled_by_mass(), 4e-4}}, {density});
        check_doubt([](const auto& in) { return strength_by_tabarie(in[0], in[1]); }, {gravity, {"gravity after", r.boiled_by_volume(), 4e-4}}, {});
        check_doubt([](const auto& in) { return strength_from_boiling_point(in[1], in[2], in[0]); },
                    {gravity, {"boiling point", r.boils_at(97.0), 0.1}, {"pressure", 97.0, 0.2}}, {density, {"boiling point formula", boiling_formula_k, 1}});
        check_doubt(
            [](const auto& in) {
                return strength_from_distilled_sample(in[1], in[2], in[3], in[0], {in[4].value(), in[4].standard_uncertainty()});
            },
            {gravity, {"alcoholometer", r.abv * 2.4, 0.002}, {"distillate", 101.0, 0.3}, {"sample", 250.0, 0.5}, {"recovery", 0.99, 0.004}}, {density});
    }
}

TEST_CASE("hydrometer and refractometer: the doubt of the kind of extract", "[strength][without_og][uncertain]") {
    // Solved anew, by bisection, for extract that refracts k times as sucrose does: its doubt is 4 %.
    const auto abv_at = [](const double k) {
        const auto extract_of = [](const double e) { return bisect([e](const double x) { return wash::gravity_20_20(e, x) - ordinary.sg; }, 0.0, 0.3); };
        const double e =
            bisect([&](const double ethanol) { return wash_refraction::raw_index(ethanol, k * extract_of(ethanol), at_20) - ordinary.n; }, 0.03, 0.2);
        return wash::abv(e, extract_of(e));
    };
    CHECK(std::abs(abv_at(1.0) - ordinary.abv) <= 1e-10);
    constexpr double step = 1e-3;
    const FoundStrength f = strength_from_hydrometer_and_refractometer(gravity_of(ordinary.sg), index_of(ordinary.n));
    check_contribution(f.abv, "kind of extract", (abv_at(1.0 + step) - abv_at(1.0 - step)) / (2.0 * step), 0.04);
}

TEST_CASE("carbon dioxide lost: its doubt", "[strength][without_og][uncertain]") {
    const std::vector<Input> inputs{
        {"gravity", ordinary.sg, 5e-4}, {"mass lost", 4.6, 0.05}, {"volume of wash", 75.0, 1.0}, {"temperature", 25.0, 1.0}, {"pressure", 99.0, 0.5}};
    const Reader reader = [](const std::vector<Uncertain>& in) { return strength_from_carbon_dioxide_lost({in[1], in[2], in[3], in[4]}, in[0]); };
    const FoundStrength f = read_with(reader, inputs, inputs.size(), 0.0);
    const Slopes gravity = slopes_of(reader, inputs, 0);
    check_contribution(f.abv, "gravity", gravity.abv, 5e-4);
    check_contribution(f.real_extract, "gravity", gravity.extract, 5e-4);
    check_contribution(f.real_extract, "density formula", gravity.extract, density_of_washes_uncertainty);
    for (const std::size_t input : {std::size_t{1}, std::size_t{2}, std::size_t{3}, std::size_t{4}}) {
        check_contribution(f.abv, inputs[input].name, slopes_of(reader, inputs, input).abv, inputs[input].doubt);
    }
    // What is hidden: the ratio of gas to ethanol goes with the strength one to one, but for the little ethanol that the gas carries off.
    const double ratio = detail::co2_per_ethanol.value;
    CHECK(std::abs(ratio - 0.959) <= 5e-4);
    CHECK(std::abs(detail::co2_per_ethanol.standard_uncertainty - 0.004) <= 5e-4);
    const double one_to_one = -f.abv.value() / ratio * detail::co2_per_ethanol.standard_uncertainty;
    CHECK(std::abs(contribution_of(f.abv, "carbon dioxide per ethanol") / one_to_one - 1.0) <= 0.006);
}

TEST_CASE("boiling point: doubt against 20000 draws", "[strength][without_og][uncertain]") {
    constexpr int draws = 20000;
    constexpr double boiling_u = 0.1, pressure_u = 0.3, gravity_u = 5e-4;
    const double boils = ordinary.boils_at(97.0);
    const FoundStrength f =
        strength_from_boiling_point(reading(boils, boiling_u, "boiling point"), reading(97.0, pressure_u, "pressure"), gravity_of(ordinary.sg));
    std::mt19937_64 engine(20000);
    std::normal_distribution<double> normal;
    double sum = 0.0, squares = 0.0, extracts = 0.0, extract_squares = 0.0, products = 0.0;
    for (int i = 0; i < draws; ++i) {
        // The doubts of the formulas are drawn with the readings they act like.
        const double t = boils + boiling_u * normal(engine) + boiling_formula_k * normal(engine);
        const double p = 97.0 + pressure_u * normal(engine);
        const double g = ordinary.sg + gravity_u * normal(engine) + density_of_washes_uncertainty * normal(engine);
        const FoundStrength drawn = strength_from_boiling_point(reading(t, boiling_u, "boiling point"), Uncertain(p), gravity_of(g));
        const double a = drawn.abv.value() - ordinary.abv;
        const double x = drawn.real_extract.value() - ordinary.x;
        sum += a;
        squares += a * a;
        extracts += x;
        extract_squares += x * x;
        products += a * x;
    }
    const double sd = std::sqrt((squares - sum * sum / draws) / (draws - 1));
    const double extract_sd = std::sqrt((extract_squares - extracts * extracts / draws) / (draws - 1));
    const double joint = (products - sum * extracts / draws) / (draws - 1);
    CAPTURE(sd, f.abv.standard_uncertainty(), extract_sd, f.real_extract.standard_uncertainty());
    CHECK(std::abs(sd / f.abv.standard_uncertainty() - 1.0) <= 0.03);
    CHECK(std::abs(extract_sd / f.real_extract.standard_uncertainty() - 1.0) <= 0.03);
    CHECK(std::abs(joint / (sd * extract_sd) - correlation(f.abv, f.real_extract)) <= 0.03);
    CHECK(std::abs(sum / draws) <= 4.0 * sd / std::sqrt(draws) + 0.02 * sd);  // a bias of second order is small beside the doubt
}

TEST_CASE("without original gravity: budgets", "[strength][without_og][uncertain]") {
    std::vector<FoundStrength> all;
    for (const auto& [name, route] : exact_routes()) {
        for (const auto& [e, x] : {std::pair{0.0637, 0.0195}, {0.02, 0.10}, {0.12, 0.001}}) all.push_back(route(Readings(e, x)));
    }
    all.push_back(strength_by_tabarie(gravity_of(0.9964), reading(1.0076, 5e-4, "gravity after")));
    all.push_back(strength_from_carbon_dioxide_lost({reading(4.6, 0.05, "mass lost"), reading(75.0, 1.0, "volume of wash")}, gravity_of(0.9964)));
    for (const FoundStrength& f : all) {
        CAPTURE(f.route);
        for (const Uncertain& u : {f.abv, f.abw, f.real_extract}) {
            double variance = 0.0;
            for (const contribution& c : u.budget()) variance += c.amount * c.amount;
            CHECK(std::abs(std::sqrt(variance) / u.standard_uncertainty() - 1.0) <= 1e-12);
        }
        double largest = 0.0;
        std::string by;
        for (const contribution& c : f.abv.budget()) {
            if (std::abs(c.amount) > largest) {
                largest = std::abs(c.amount);
                by = c.name;
            }
        }
        CHECK(!by.empty());
        CHECK(f.dominated_by == by);
    }
    // More doubt of one reading makes it the one that dominates.
    const auto seen = [](const double of_gravity, const double of_index) {
        return strength_from_hydrometer_and_refractometer(reading(ordinary.sg, of_gravity, "gravity"), reading(ordinary.n, of_index, "refractive index"))
            .dominated_by;
    };
    CHECK(seen(2e-3, 1e-5) == "gravity");
    CHECK(seen(1e-5, 1e-3) == "refractive index");
    CHECK(seen(0.0, 0.0) == "kind of extract");
}

TEST_CASE("without original gravity: one gravity correlates two strengths", "[strength][without_og][uncertain]") {
    const Uncertain gravity = gravity_of(ordinary.sg);
    const Uncertain index = index_of(ordinary.n);
    const Uncertain after = reading(ordinary.boiled_by_volume(), 5e-4, "gravity after");
    const FoundStrength seen = strength_from_hydrometer_and_refractometer(gravity, index);
    const FoundStrength boiled = strength_from_boiled_down(gravity, after);
    const FoundStrength apart = strength_from_boiled_down(gravity_of(ordinary.sg), after);  // read a second time
    const double shared = contribution_of(seen.abv, "gravity") * contribution_of(boiled.abv, "gravity");
    CHECK(shared > 0.0);
    CHECK(std::abs(covariance(seen.abv, boiled.abv) - covariance(seen.abv, apart.abv) - shared) <= 1e-9 * shared);
    CHECK(correlation(seen.abv, boiled.abv) > 0.4);
    // The same readings twice: no reading is left in the difference.
    const FoundStrength again = strength_from_hydrometer_and_refractometer(gravity, index);
    const Uncertain difference = seen.abv - again.abv;
    CHECK(difference.value() == 0.0);
    CHECK(std::abs(contribution_of(difference, "gravity")) <= 1e-15);
    CHECK(std::abs(contribution_of(difference, "refractive index")) <= 1e-15);
    CHECK((seen.abv - seen.abv).budget().empty());
    // Strength and extract of one sample: lighter by ethanol is heavier by extract.
    CHECK(correlation(boiled.abv, boiled.real_extract) > 0.5);
}

// ---- published analyses -------------------------------------------------------------------------------------------------------------

TEST_CASE("without original gravity: extract of wines by their strength and density", "[strength][without_og][published]") {
    // Cortez et al. (2009), Wine Quality data set: sugar-free extract 19.3 with standard deviation 2.4 g/L (white), 29.9 with 3.9 (red) over the
    // whole set; of this part twice what a sample of its size may be off. No wine prints its total extract: no check of the boiled-down route.
    struct Kind {
        double mean, sd, n = 0.0, sum = 0.0, squares = 0.0;
    };
    std::map<std::string, Kind> kinds{{"white", {19.3, 2.4}}, {"red", {29.9, 3.9}}};
    int lighter_than_water = 0;
    for (const Row& row : read_table("gravity_to_alcohol/wine_density_alcohol_residual_sugar.csv")) {
        const double rho = 1000.0 * row.number("density_g_per_mL");
        const double strength = row.number("alcohol_pct_v_v") / percent;
        const double sg = rho / oiml_r22::density(0.0, at_20);
        lighter_than_water += sg < 1.0 ? 1 : 0;
        // The strength as of a distillate made up to the volume of its sample, nothing lost.
        const FoundStrength f =
            strength_from_distilled_sample(reading(strength, 5e-4, "alcohol"), Uncertain(100.0), Uncertain(100.0), reading(sg, 1e-5, "gravity"), {1.0, 0.0});
        CAPTURE(row.line(), strength, rho);
        CHECK(std::abs(f.abv.value() - strength) <= 1e-12);
        const double free_of_sugar = f.real_extract.value() * rho - row.number("residual_sugar_g_per_L");
        Kind& kind = kinds.at(row.text("kind"));
        CHECK(free_of_sugar > 0.0);
        kind.n += 1.0;
        kind.sum += free_of_sugar;
        kind.squares += free_of_sugar * free_of_sugar;
    }
    CHECK(lighter_than_water > 200);
    for (const auto& [name, kind] : kinds) {
        const double mean = kind.sum / kind.n;
        const double sd = std::sqrt((kind.squares - kind.n * mean * mean) / (kind.n - 1.0));
        CAPTURE(name, kind.n, mean, sd);
        CHECK(std::abs(mean - kind.mean) <= 2.0 * kind.sd / std::sqrt(kind.n));
        CHECK(std::abs(sd - kind.sd) <= 2.0 * kind.sd / std::sqrt(2.0 * kind.n));
    }
}

TEST_CASE("boiled down: the brews of 1911-1912", "[strength][without_og][published]") {
    // Tolman, Riley (1917) USDA Bulletin 493, Tables I-IV: gravity of the beer, ethanol by distillation, extract from the gravity of what was left.
    // That gravity is worked back with 264.7 g/100 mL per unit, the lower end of the bulletin's scale, which is that of weak solutions. Gravities
    // are at 60 degF; each is moved by what the wash of the printed analysis moves, less than 0.0003.
    constexpr double scale = 264.7;
    constexpr double tolerance = 0.0003;  // of the gravity
    constexpr double kg_per_m3 = 10.0;    // in a gram per 100 mL
    const auto warmed = [](const double e, const double x) { return wash::gravity_20_20(e, x) - wash::gravity(e, x, sixty_fahrenheit_c, sixty_fahrenheit_c); };
    int rows = 0, exact_within = 0, tabarie_within = 0;
    double exact_sum = 0.0, exact_squares = 0.0, tabarie_sum = 0.0, tabarie_squares = 0.0;
    Worst apart;
    for (const Row& row : read_table("gravity_to_alcohol/measured_og_fg_alcohol_us_brewery_1911_1912.csv")) {
        const double beer = row.number("beer_sg_60F");
        const double solids = 1.0 + row.number("real_extract_g_per_100mL") / scale;
        const double rho = beer / wash::water_specific_volume(0.04, 0.05, sixty_fahrenheit_c);
        const double e = row.number("alcohol_g_per_100mL") * kg_per_m3 / rho;
        const double x = wash::extract_from_density(rho, e, sixty_fahrenheit_c);
        const double printed = wash::abv(e, x);
        const double before = beer + warmed(e, x);
        const double after = solids + warmed(0.0, x);
        CHECK(std::abs(before - beer) < 3e-4);
        CHECK(std::abs(after - solids) < 3e-4);
        const auto exact = [&](const double move) {
            return strength_from_boiled_down(reading(before + move, 1e-4, "gravity"), reading(after, 1e-4, "gravity after")).abv.value();
        };
        const auto by_rule = [&](const double move) {
            return strength_by_tabarie(reading(before + move, 1e-4, "gravity"), reading(after, 1e-4, "gravity after")).abv.value();
        };
        const double off = percent * (exact(0.0) - printed);
        const double off_by_rule = percent * (by_rule(0.0) - printed);
        const bool within = exact(tolerance) <= printed && printed <= exact(-tolerance);
        const bool within_by_rule = by_rule(tolerance) <= printed && printed <= by_rule(-tolerance);
        CAPTURE(row.text("sample"), percent * printed, off, off_by_rule);
        apart.add(off - off_by_rule, row.line());
        ++rows;
        exact_within += within ? 1 : 0;
        tabarie_within += within_by_rule ? 1 : 0;
        if (row.text("flag").find("SUSPECT") != std::string::npos) {
            CHECK(!within);
            CHECK(!within_by_rule);
            continue;
        }
        CHECK(within);
        CHECK(within_by_rule);
        exact_sum += off;
        exact_squares += off * off;
        tabarie_sum += off_by_rule;
        tabarie_squares += off_by_rule * off_by_rule;
    }
    CHECK(rows == 28);
    CHECK(exact_within == 27);
    CHECK(tabarie_within == 27);
    const double n = exact_within;
    CAPTURE(exact_sum / n, std::sqrt(exact_squares / n), tabarie_sum / n, std::sqrt(tabarie_squares / n), apart.value, apart.line);
    CHECK(std::abs(exact_sum / n) <= 0.02);
    CHECK(std::abs(tabarie_sum / n) <= 0.02);
    CHECK(std::sqrt(exact_squares / n) <= 0.1);
    CHECK(std::sqrt(tabarie_squares / n) <= 0.1);
    CHECK(apart.value <= 0.04);  // % vol, as far as the rule is from the exact route at 7 % vol and 9 % extract
}

TEST_CASE("boiled down: American lagers of 1873-1895", "[strength][without_og][published]") {
    // Wahl, Henius (1908): apparent extract, real extract (by mass) and alcohol by mass. The table holds within 0.15 degrees Balling of apparent
    // extract, which makes 0.3 % mass of alcohol; the mean of 15 samples is 0.154 off.
    int rows = 0;
    for (const Row& row : read_table("gravity_to_alcohol/measured_ae_re_alcohol_us_lagers_1873_1895.csv")) {
        if (contains(row.text("flag"), "apparent extract")) continue;
        const double apparent = row.number("apparent_extract_pct") / percent;
        const double real = row.number("real_extract_pct") / percent;
        const double printed = row.number("alcohol_pct_w_w") / percent;
        const double tolerance = row.text("sample") == "average of 15 samples" ? 0.00155 : 0.0015;
        const auto found = [&](const double move) {
            return strength_from_boiled_down(gravity_of(wash::gravity_20_20(0.0, apparent + move)), gravity_of(wash::gravity_20_20(0.0, real)),
                                             made_up_to::mass)
                .abw.value();
        };
        CAPTURE(row.text("sample"), percent * found(0.0), percent * printed);
        CHECK(found(tolerance) <= printed);
        CHECK(printed <= found(-tolerance));
        ++rows;
    }
    CHECK(rows == 13);
}

TEST_CASE("distilled sample: gravity tables of distillates", "[strength][without_og][published]") {
    // GOST 12787-2021 table A.1, SG 20/20: 0.025 % mass. The distillate, made up to the volume of its sample, is a wash without extract.
    int rows = 0;
    for (const Row& row : read_table("sugar_solutions/gost12787_distillate_specific_gravity_alcohol.csv")) {
        const double sg = row.number("specific_gravity_20_20");
        const double p = oiml_r22::abw_from_density(sg * oiml_r22::density(0.0, at_20), at_20);
        const FoundStrength f = strength_from_distilled_sample(reading(volume_at_20c::from_abw(p), 5e-4, "distillate"), Uncertain(100.0), Uncertain(100.0),
                                                               reading(sg, 5e-5, "gravity"), {1.0, 0.0});
        CAPTURE(sg, percent * f.abw.value());
        CHECK(std::abs(percent * f.abw.value() - row.number("ethanol_mass_pct")) <= 0.025);
        CHECK(std::abs(f.real_extract.value()) <= 1e-12);
        ++rows;
    }
    CHECK(rows >= 40);
    // USP 29 (after NBS 1913), gravity in air 60/60 degF to 32 % vol: 0.85e-4 of gravity by its header, and half a digit of the printed strength.
    rows = 0;
    for (const Row& row : read_table("ethanol_water/usp_alcoholometric_0_32.csv")) {
        const double water = oiml_r22::density(0.0, sixty_fahrenheit_c);
        const auto strength_at = [water](const double sg) {
            const double rho = conventional_air_density + sg * (water - conventional_air_density);
            const double p = oiml_r22::abw_from_density(std::min(rho, water), sixty_fahrenheit_c);
            // From 5 mL in 20 mL of wash: a quarter, and nothing lost.
            const double q = volume_at_20c::from_abw(p);
            const FoundStrength f =
                strength_from_distilled_sample(reading(q, 5e-4, "distillate"), Uncertain(5.0), Uncertain(20.0), gravity_of(1.0), {1.0, 0.0});
            CHECK(std::abs(4.0 * f.abv.value() - q) <= 1e-12);
            return percent * p;
        };
        const double sg = row.number("sg_air_60F_60F");
        const double printed = row.number("mass_percent");
        CAPTURE(sg, printed);
        CHECK(strength_at(sg + 0.85e-4) <= printed + 0.005);
        CHECK(printed - 0.005 <= strength_at(sg - 0.85e-4));
        ++rows;
    }
    CHECK(rows >= 25);
}

TEST_CASE("hydrometer and refractometer: unfermented grape must", "[strength][without_og][published]") {
    // OIV-MA-AS2-02 table II as in the French order of 2011: index of sucrose, density of must, which is 0.6 to 1.7 kg/m3 above that of sucrose.
    // No ethanol is in it. Must taken for sucrose fakes -0.2 to -0.6 % vol, all of it within the doubt of the kind of extract.
    double least = 1.0, most = -1.0;
    int rows = 0;
    for (const Row& row : read_table("sugar_solutions/oiv_must_refractometry_10_30pct.csv")) {
        const double w = row.number("sucrose_mass_pct") / percent;
        const double rho = 1000.0 * row.number("must_density_kg_L");
        const double above_sucrose = rho - icumsa_sps4::density(w, at_20);
        const FoundStrength f = strength_from_hydrometer_and_refractometer(reading(rho / icumsa_sps4::water(at_20), 1e-4, "gravity"),
                                                                           reading(row.number("nD_20C"), 1e-5, "refractive index"));
        CAPTURE(w, above_sucrose, percent * f.abv.value(), percent * f.abv.standard_uncertainty(), f.dominated_by);
        CHECK(above_sucrose >= 0.55);
        CHECK(above_sucrose <= 1.75);
        CHECK(std::abs(f.abv.value()) <= f.abv.standard_uncertainty());
        CHECK(f.dominated_by == "kind of extract");
        CHECK(std::abs(f.real_extract.value() - w) <= 2.0 * f.real_extract.standard_uncertainty());
        least = std::min(least, f.abv.value());
        most = std::max(most, f.abv.value());
        ++rows;
    }
    CHECK(rows > 100);
    CAPTURE(percent * least, percent * most);
    CHECK(percent * least >= -0.65);
    CHECK(percent * most <= -0.15);
}

// ---- errors -------------------------------------------------------------------------------------------------------------------------

TEST_CASE("without original gravity: readings that no wash has", "[strength][without_og][errors]") {
    const auto says = [](const std::string& message, const std::string& what, const std::string& route) {
        CAPTURE(message);
        CHECK(begins(message, what + " -"));
        CHECK(contains(message, "% mass"));
        CHECK(contains(message, "(" + route + ")"));
    };
    says(range_error([] { strength_from_hydrometer_and_refractometer(gravity_of(1.05), index_at_brix(5.0)); }), "strength", "hydrometer and refractometer");
    says(range_error([] { strength_from_hydrometer_and_refractometer(gravity_of(0.95), index_at_brix(5.0)); }), "real extract", "hydrometer and refractometer");
    says(range_error([] { strength_from_boiled_down(gravity_of(1.02), gravity_of(1.01)); }), "strength", "boiled down");
    says(range_error([] { strength_from_boiled_down(gravity_of(1.02), gravity_of(1.01), made_up_to::mass); }), "strength", "boiled down");
    says(range_error([] { strength_by_tabarie(gravity_of(1.02), gravity_of(1.01)); }), "strength", "boiled down, by Tabarie's rule");
    says(range_error([] { strength_from_boiling_point(reading(104.0, 0.1, "boiling point"), reading(101.0, 0.1, "pressure"), gravity_of(1.0)); }), "strength",
         "boiling point");
    says(range_error([] { strength_from_distilled_sample(reading(0.1, 1e-3, "alcoholometer"), Uncertain(100.0), Uncertain(250.0), gravity_of(0.98)); }),
         "real extract", "distilled sample");
    // Nothing boils so far below the azeotrope's boiling point.
    CHECK_THROWS_AS(strength_from_boiling_point(reading(60.0, 0.1, "boiling point"), reading(101.0, 0.1, "pressure"), gravity_of(1.0)), Error);
    // The gravity of water and 20 Brix: no fermenter makes that, a liqueur of 30 % vol has it. Refused, or a liquid that has both.
    try {
        const FoundStrength f = strength_from_hydrometer_and_refractometer(gravity_of(1.0), index_at_brix(20.0));
        CHECK(f.abv.value() > 0.30);
        CHECK(std::abs(wash::gravity_20_20(f.abw.value(), f.real_extract.value()) - 1.0) <= 1e-12);
        CHECK(std::abs(wash_refraction::index(f.abw.value(), f.real_extract.value(), at_20) - index_at_brix(20.0).value()) <= 1e-12);
    } catch (const Error& error) {
        CHECK(contains(error.what(), "hydrometer and refractometer"));
    }
    // Less than nothing is forgiven to three standard uncertainties.
    const Readings wort(0.0, 0.10);
    const auto with_doubt = [&](const double off, const double doubt) {
        return range_error([&] { strength_from_boiled_down(reading(wort.sg + off, doubt, "gravity"), reading(wort.sg, doubt, "gravity after")); });
    };
    CHECK(with_doubt(1e-3, 5e-4) == "no RangeError");
    CHECK(begins(with_doubt(3e-3, 5e-4), "strength -"));
}

TEST_CASE("without original gravity: readings out of range", "[strength][without_og][errors]") {
    const Uncertain fine = gravity_of(1.0);
    const std::string gravity = " SG 20/20 is outside 0.95 to 1.2 SG 20/20";
    const auto pressure = Uncertain(101.0);
    const std::map<std::string, std::function<void()>> refused{
        {"gravity 0.5" + gravity, [&] { strength_from_hydrometer_and_refractometer(gravity_of(0.5), index_at_brix(5.0)); }},
        {"gravity 1.21" + gravity, [&] { strength_from_hydrometer_and_refractometer(gravity_of(1.21), index_at_brix(5.0)); }},
        {"gravity 1050" + gravity, [&] { strength_from_boiling_point(Uncertain(95.0), pressure, gravity_of(1050.0)); }},
        {"gravity 0.51" + gravity,
         [&] {
             strength_from_carbon_dioxide_lost({Uncertain(4.0), Uncertain(75.0)}, gravity_of(0.51));
         }},
        {"gravity 0.52" + gravity, [&] { strength_from_distilled_sample(Uncertain(0.2), Uncertain(100.0), Uncertain(250.0), gravity_of(0.52)); }},
        {"gravity before 0.5" + gravity, [&] { strength_from_boiled_down(gravity_of(0.5), fine); }},
        {"gravity before 0.53" + gravity, [&] { strength_by_tabarie(gravity_of(0.53), fine); }},
        {"gravity after 0.98 SG 20/20 is outside", [&] { strength_from_boiled_down(fine, gravity_of(0.98)); }},
        {"gravity after 1.3 SG 20/20 is outside", [&] { strength_by_tabarie(fine, gravity_of(1.3)); }},
        {"refractive index 1.3 is outside 1.32 to 1.42", [&] { strength_from_hydrometer_and_refractometer(fine, index_of(1.3)); }},
        {"refractive index 5 is outside 1.32 to 1.42", [&] { strength_from_hydrometer_and_refractometer(fine, index_of(5.0)); }},
        {"mass lost -1 kg is outside 1e-06 to 1000000 kg",
         [&] {
             strength_from_carbon_dioxide_lost({Uncertain(-1.0), Uncertain(75.0)}, fine);
         }},
        {"wash 0 L is outside 0.001 to 1000000 L",
         [&] {
             strength_from_carbon_dioxide_lost({Uncertain(4.0), Uncertain(0.0)}, fine);
         }},
        {"temperature 50 degC is outside 0 to 40 degC",
         [&] {
             strength_from_carbon_dioxide_lost({Uncertain(4.0), Uncertain(75.0), Uncertain(50.0)}, fine);
         }},
        {"pressure 10 kPa is outside 50 to 110 kPa",
         [&] {
             strength_from_carbon_dioxide_lost({Uncertain(4.0), Uncertain(75.0), Uncertain(20.0), Uncertain(10.0)}, fine);
         }},
        {"pressure 19 kPa is outside 20 to 110 kPa", [&] { strength_from_boiling_point(Uncertain(60.0), Uncertain(19.0), fine); }},
        {"pressure 101325 kPa is outside 20 to 110 kPa", [&] { strength_from_boiling_point(Uncertain(95.0), Uncertain(101325.0), fine); }},
        {"boiling point 40 degC is outside 50 to 105 degC", [&] { strength_from_boiling_point(Uncertain(40.0), pressure, fine); }},
        {"boiling point 203 degC is outside 50 to 105 degC", [&] { strength_from_boiling_point(Uncertain(203.0), pressure, fine); }},
        {"strength of the distillate -10 % vol is outside 0 to 100 % vol",
         [&] { strength_from_distilled_sample(Uncertain(-0.1), Uncertain(100.0), Uncertain(250.0), fine); }},
        {"strength of the distillate 2000 % vol is outside 0 to 100 % vol",
         [&] { strength_from_distilled_sample(Uncertain(20.0), Uncertain(100.0), Uncertain(250.0), fine); }},
        {"volume of the distillate 0 mL is outside", [&] { strength_from_distilled_sample(Uncertain(0.2), Uncertain(0.0), Uncertain(250.0), fine); }},
        {"volume of the sample -250 mL is outside", [&] { strength_from_distilled_sample(Uncertain(0.2), Uncertain(100.0), Uncertain(-250.0), fine); }},
        {"recovery 1.2 is outside 0.5 to 1",
         [&] {
             strength_from_distilled_sample(Uncertain(0.2), Uncertain(100.0), Uncertain(250.0), fine, {1.2, 0.0});
         }},
        {"recovery 0.3 is outside 0.5 to 1",
         [&] {
             strength_from_distilled_sample(Uncertain(0.2), Uncertain(100.0), Uncertain(250.0), fine, {0.3, 0.0});
         }},
        {"strength of the wash 45 % vol is outside 0 to 30 % vol",
         [&] {
             strength_from_distilled_sample(Uncertain(0.45), Uncertain(100.0), Uncertain(100.0), fine, {1.0, 0.0});
         }},
    };
    for (const auto& [beginning, call] : refused) check_refused(call, beginning);
}

TEST_CASE("without original gravity: what is no number", "[strength][without_og][errors]") {
    const Uncertain fine = gravity_of(1.0);
    const std::string number = " must be a number with a standard uncertainty";
    for (const double bad : {not_a_number, infinity, -infinity}) {
        const Uncertain nothing(bad);
        const std::vector<std::pair<std::string, std::function<void()>>> refused{
            {"gravity", [&] { strength_from_hydrometer_and_refractometer(nothing, index_at_brix(5.0)); }},
            {"refractive index", [&] { strength_from_hydrometer_and_refractometer(fine, nothing); }},
            {"gravity before", [&] { strength_from_boiled_down(nothing, fine); }},
            {"gravity after", [&] { strength_from_boiled_down(fine, nothing); }},
            {"gravity before", [&] { strength_by_tabarie(nothing, fine); }},
            {"gravity after", [&] { strength_by_tabarie(fine, nothing); }},
            {"boiling point", [&] { strength_from_boiling_point(nothing, Uncertain(101.0), fine); }},
            {"pressure", [&] { strength_from_boiling_point(Uncertain(95.0), nothing, fine); }},
            {"gravity", [&] { strength_from_boiling_point(Uncertain(95.0), Uncertain(101.0), nothing); }},
            {"mass lost",
             [&] {
                 strength_from_carbon_dioxide_lost({nothing, Uncertain(75.0)}, fine);
             }},
            {"wash",
             [&] {
                 strength_from_carbon_dioxide_lost({Uncertain(4.0), nothing}, fine);
             }},
            {"temperature",
             [&] {
                 strength_from_carbon_dioxide_lost({Uncertain(4.0), Uncertain(75.0), nothing}, fine);
             }},
            {"pressure",
             [&] {
                 strength_from_carbon_dioxide_lost({Uncertain(4.0), Uncertain(75.0), Uncertain(20.0), nothing}, fine);
             }},
            {"gravity",
             [&] {
                 strength_from_carbon_dioxide_lost({Uncertain(4.0), Uncertain(75.0)}, nothing);
             }},
            {"strength of the distillate", [&] { strength_from_distilled_sample(nothing, Uncertain(100.0), Uncertain(250.0), fine); }},
            {"volume of the distillate", [&] { strength_from_distilled_sample(Uncertain(0.2), nothing, Uncertain(250.0), fine); }},
            {"volume of the sample", [&] { strength_from_distilled_sample(Uncertain(0.2), Uncertain(100.0), nothing, fine); }},
            {"gravity", [&] { strength_from_distilled_sample(Uncertain(0.2), Uncertain(100.0), Uncertain(250.0), nothing); }},
            {"recovery",
             [&] {
                 strength_from_distilled_sample(Uncertain(0.2), Uncertain(100.0), Uncertain(250.0), fine, {bad, 0.003});
             }},
        };
        for (const auto& [what, call] : refused) {
            const std::string message = input_error(call);
            CAPTURE(bad, what, message);
            CHECK(message == what + number);
        }
    }
    // Nor a doubt that is none.
    CHECK(input_error([&] { strength_from_boiled_down(reading(1.0, not_a_number, "gravity"), fine); }) == "gravity before" + number);
    CHECK(contains(input_error([] { reading(1.0, -1e-3, "gravity"); }), "standard uncertainty -0.001 of gravity"));
    CHECK(contains(input_error([&] {
                       strength_from_distilled_sample(Uncertain(0.2), Uncertain(100.0), Uncertain(250.0), fine, {0.99, -0.1});
                   }),
                   "standard uncertainty -0.1 of recovery"));
    CHECK(contains(input_error([&] {
                       strength_from_distilled_sample(Uncertain(0.2), Uncertain(100.0), Uncertain(250.0), fine, {0.99, infinity});
                   }),
                   "of recovery"));
}
