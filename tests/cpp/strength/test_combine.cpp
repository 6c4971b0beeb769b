// Several strengths weighed into one: generalised least squares against figures worked by hand, and what is said of disagreement.

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <ferment/strength/combine.hpp>
#include <random>
#include <string>
#include <vector>

#include "catch.hpp"
#include "liquid/checks.hpp"

using namespace ferment;
using namespace ferment_test;

namespace {

constexpr double round_off = 1e-12;

FoundStrength strength(const char* route, const Uncertain& abv) {
    FoundStrength f;
    f.route = route;
    f.abv = abv;
    return f;
}
FoundStrength strength(const char* route, const double abv, const double doubt) {
    return strength(route, Uncertain::input(abv, doubt, route));
}

double weights_of(const CombinedStrength& c) {
    double sum = 0.0;
    for (const Agreement& a : c.agreements) sum += a.weight;
    return sum;
}

std::string input_error(const std::vector<FoundStrength>& found) {
    try {
        combine(found);
    } catch (const InputError& error) {
        return error.what();
    }
    return "no InputError";
}

}  // namespace

TEST_CASE("combine: equal doubts weigh the same", "[strength][combine]") {
    for (const std::size_t n : {std::size_t{2}, std::size_t{3}, std::size_t{5}}) {
        std::vector<FoundStrength> found;
        double sum = 0.0;
        for (std::size_t i = 0; i < n; ++i) {
            const double abv = 0.08 + 1e-3 * static_cast<double>(i);
            sum += abv;
            found.push_back(strength("route", abv, 0.002));
        }
        const CombinedStrength c = combine(found);
        const double count = static_cast<double>(n);
        REQUIRE(c.agreements.size() == n);
        for (const Agreement& a : c.agreements) CHECK(std::abs(a.weight - 1.0 / count) <= round_off);
        CHECK(std::abs(c.abv.value() - sum / count) <= round_off);
        CHECK(std::abs(c.abv.standard_uncertainty() - 0.002 / std::sqrt(count)) <= round_off);
    }
}

TEST_CASE("combine: independent doubts weigh by one over their square", "[strength][combine]") {
    // By hand: 8.0 +- 0.1 and 8.3 +- 0.2 % vol. Weights 100 : 25, so 8.06 +- sqrt(1/125) = 0.0894; chi-square 0.3^2/(0.1^2 + 0.2^2) = 1.8.
    const CombinedStrength c = combine({strength("a", 0.080, 0.001), strength("b", 0.083, 0.002)});
    CHECK(std::abs(c.agreements[0].weight - 0.8) <= round_off);
    CHECK(std::abs(c.agreements[1].weight - 0.2) <= round_off);
    CHECK(std::abs(c.abv.value() - 0.0806) <= round_off);
    CHECK(std::abs(c.abv.standard_uncertainty() - 1e-2 * std::sqrt(1.0 / 125.0)) <= round_off);
    CHECK(std::abs(c.chi_square - 1.8) <= 1e-9);
    CHECK(std::abs(c.chance - 0.1797) <= 5e-5);  // two-sided, of 1.3416 standard deviations
    CHECK(std::abs(c.agreements[0].deviation + std::sqrt(1.8)) <= 1e-9);
    CHECK(std::abs(c.agreements[1].deviation - std::sqrt(1.8)) <= 1e-9);
    CHECK(c.agreements[0].route == "a");
    CHECK(c.agreements[1].route == "b");
}

TEST_CASE("combine: two correlated values worked by hand", "[strength][combine]") {
    // A shared reading s +- 0.001 in both; a has 0.001 of its own, b 0.002. Variances 2 and 5, covariance 1 (all 1e-6):
    // weights (5 - 1)/(2 + 5 - 2) = 0.8 and (2 - 1)/5 = 0.2; variance (2 x 5 - 1)/5 = 1.8; difference 0.004: chi-square 16/5 = 3.2.
    const Uncertain shared = Uncertain::input(0.0, 0.001, "shared");
    const Uncertain a = Uncertain::input(0.080, 0.001, "own a") + shared;
    const Uncertain b = Uncertain::input(0.084, 0.002, "own b") + shared;
    const CombinedStrength c = combine({strength("a", a), strength("b", b)});
    CHECK(std::abs(c.agreements[0].weight - 0.8) <= round_off);
    CHECK(std::abs(c.agreements[1].weight - 0.2) <= round_off);
    CHECK(std::abs(c.abv.value() - 0.0808) <= round_off);
    CHECK(std::abs(c.abv.standard_uncertainty() - 1e-3 * std::sqrt(1.8)) <= round_off);
    CHECK(std::abs(c.chi_square - 3.2) <= 1e-9);
    CHECK(std::abs(c.chance - std::erfc(std::sqrt(1.6))) <= 1e-12);
    CHECK(c.consistent);
    // A covariance larger than the smaller variance: the weaker value gets a negative weight, as it must. Variances 2 and 17, covariance 4:
    // (17 - 4)/(2 + 17 - 8) = 13/11, (2 - 4)/11, variance (34 - 16)/11.
    const Uncertain twice = Uncertain::input(0.080, 0.001, "own a") + shared;
    const Uncertain far = Uncertain::input(0.081, 0.001, "own b") + 4.0 * shared;
    const CombinedStrength d = combine({strength("a", twice), strength("b", far)});
    CHECK(std::abs(d.agreements[0].weight - 13.0 / 11.0) <= round_off);
    CHECK(std::abs(d.agreements[1].weight + 2.0 / 11.0) <= round_off);
    CHECK(std::abs(d.abv.standard_uncertainty() - 1e-3 * std::sqrt(18.0 / 11.0)) <= round_off);
    CHECK(std::abs(weights_of(d) - 1.0) <= round_off);
}

TEST_CASE("combine: properties on correlated sets drawn at random", "[strength][combine][identity]") {
    std::mt19937_64 engine(7);
    std::uniform_real_distribution<double> between(0.0, 1.0);
    for (int set = 0; set < 200; ++set) {
        const std::size_t n = 2 + static_cast<std::size_t>(set % 4);
        const Uncertain shared = Uncertain::input(0.0, 0.002, "gravity");
        std::vector<FoundStrength> found;
        double best = 1.0;
        for (std::size_t i = 0; i < n; ++i) {
            const Uncertain own = Uncertain::input(0.08 + 0.004 * between(engine), 1e-4 + 0.004 * between(engine), "own");
            found.push_back(strength("route", own + (2.0 * between(engine) - 1.0) * shared));
            best = std::min(best, found.back().abv.standard_uncertainty());
        }
        const CombinedStrength c = combine(found);
        CAPTURE(set, n, c.chi_square, c.chance);
        CHECK(std::abs(weights_of(c) - 1.0) <= 1e-10);
        CHECK(c.abv.standard_uncertainty() <= best * (1.0 + 1e-10));
        // The combination, built again from the weights that are shown.
        Uncertain again(0.0);
        for (std::size_t i = 0; i < n; ++i) again += c.agreements[i].weight * found[i].abv;
        CHECK(std::abs(again.value() - c.abv.value()) <= 1e-12);
        CHECK(std::abs(again.standard_uncertainty() - c.abv.standard_uncertainty()) <= 1e-12);
        // Best linear unbiased: the same covariance with every value, its own variance.
        const double variance = covariance(c.abv, c.abv);
        for (const FoundStrength& f : found) CHECK(std::abs(covariance(c.abv, f.abv) - variance) <= 1e-9 * variance);
        // Chi-square by its definition r^T V^-1 r, the inverse by elimination.
        std::vector<std::vector<double>> v(n, std::vector<double>(n + 1));
        for (std::size_t i = 0; i < n; ++i) {
            for (std::size_t j = 0; j < n; ++j) v[i][j] = covariance(found[i].abv, found[j].abv);
            v[i][n] = found[i].abv.value() - c.abv.value();
        }
        double chi_square = 0.0;
        for (std::size_t i = 0; i < n; ++i) {  // of a positive definite matrix: no pivoting, r^T V^-1 r is the sum of reduced r^2 over pivots
            for (std::size_t k = i + 1; k < n; ++k) {
                const double factor = v[k][i] / v[i][i];
                for (std::size_t j = i; j <= n; ++j) v[k][j] -= factor * v[i][j];
            }
            chi_square += v[i][n] * v[i][n] / v[i][i];
        }
        CHECK(std::abs(c.chi_square - chi_square) <= 1e-8 * (1.0 + chi_square));
        // Its chance in closed form for 1, 2, 3 and 4 degrees of freedom.
        const double h = 0.5 * c.chi_square;
        constexpr double pi = 3.14159265358979323846;
        const double odd = std::erfc(std::sqrt(h));
        const double closed[] = {odd, std::exp(-h), odd + 2.0 * std::sqrt(h / pi) * std::exp(-h), std::exp(-h) * (1.0 + h)};
        CHECK(std::abs(c.chance - closed[n - 2]) <= 1e-12);
        CHECK(c.consistent == (c.chance >= 0.05));
        CHECK(c.outlier.empty() == c.consistent);
    }
}

TEST_CASE("combine: order does not matter", "[strength][combine]") {
    const Uncertain gravity = Uncertain::input(0.0, 0.002, "gravity");
    std::vector<FoundStrength> found{strength("a", Uncertain::input(0.080, 0.001, "a") + gravity), strength("b", Uncertain::input(0.083, 0.002, "b") - gravity),
                                     strength("c", 0.079, 0.003), strength("d", 0.095, 0.001)};
    const CombinedStrength first = combine(found);
    std::vector<std::size_t> order{0, 1, 2, 3};
    int orders = 0;
    do {
        std::vector<FoundStrength> mixed;
        for (const std::size_t i : order) mixed.push_back(found[i]);
        const CombinedStrength c = combine(mixed);
        CHECK(std::abs(c.abv.value() - first.abv.value()) <= round_off);
        CHECK(std::abs(c.abv.standard_uncertainty() - first.abv.standard_uncertainty()) <= round_off);
        CHECK(std::abs(c.chi_square - first.chi_square) <= 1e-9 * first.chi_square);
        CHECK(c.outlier == first.outlier);
        for (std::size_t i = 0; i < order.size(); ++i) {
            CHECK(c.agreements[i].route == found[order[i]].route);
            CHECK(std::abs(c.agreements[i].weight - first.agreements[order[i]].weight) <= 1e-10);
            CHECK(std::abs(c.agreements[i].deviation - first.agreements[order[i]].deviation) <= 1e-8);
        }
        ++orders;
    } while (std::next_permutation(order.begin(), order.end()));
    CHECK(orders == 24);
}

TEST_CASE("combine: an outlier is named and nothing is left out", "[strength][combine]") {
    constexpr double doubt = 0.002;
    for (std::size_t planted = 0; planted < 4; ++planted) {
        const char* names[] = {"a", "b", "c", "d"};
        std::vector<FoundStrength> found;
        for (std::size_t i = 0; i < 4; ++i) {
            const double scatter = 3e-4 * (static_cast<double>(i) - 1.5);
            found.push_back(strength(names[i], 0.08 + scatter + (i == planted ? 5.0 * doubt : 0.0), doubt));
        }
        const CombinedStrength c = combine(found);
        CAPTURE(planted, c.chance, c.outlier);
        CHECK(!c.consistent);
        CHECK(c.chance < 0.05);
        CHECK(c.outlier == names[planted]);
        // Against the mean of the other three: 5 less the scatter, over sqrt(1 + 1/3).
        double others = 0.0;
        for (std::size_t i = 0; i < 4; ++i) others += i == planted ? 0.0 : found[i].abv.value() / 3.0;
        const double expected = (found[planted].abv.value() - others) / (doubt * std::sqrt(4.0 / 3.0));
        CHECK(std::abs(c.agreements[planted].deviation - expected) <= 1e-9);
        for (const Agreement& a : c.agreements) CHECK(std::abs(a.weight - 0.25) <= round_off);
    }
}

TEST_CASE("combine: consistent values have no outlier, and chance is a chance", "[strength][combine]") {
    const CombinedStrength same = combine({strength("a", 0.08, 0.001), strength("b", 0.08, 0.002), strength("c", 0.08, 0.004)});
    CHECK(same.chi_square <= 1e-20);
    CHECK(same.chance >= 1.0 - 1e-9);
    CHECK(same.consistent);
    CHECK(same.outlier.empty());
    // Values drawn as their doubts say, with a shared part: inconsistent in 5 % of the draws; 4000 draws, four standard deviations of that count.
    std::mt19937_64 engine(11);
    std::normal_distribution<double> normal;
    constexpr int draws = 4000;
    int inconsistent = 0;
    double chances = 0.0;
    for (int i = 0; i < draws; ++i) {
        const double s = normal(engine);
        const Uncertain shared = Uncertain::input(0.001 * s, 0.001, "shared");
        std::vector<FoundStrength> found;
        for (const double doubt : {0.001, 0.002, 0.003}) {
            found.push_back(strength("route", Uncertain::input(0.08 + doubt * normal(engine), doubt, "own") + shared));
        }
        const CombinedStrength c = combine(found);
        inconsistent += c.consistent ? 0 : 1;
        chances += c.chance;
        CHECK(c.outlier.empty() == c.consistent);
    }
    const double share = static_cast<double>(inconsistent) / draws;
    CAPTURE(share, chances / draws);
    CHECK(std::abs(share - 0.05) <= 4.0 * std::sqrt(0.05 * 0.95 / draws));
    CHECK(std::abs(chances / draws - 0.5) <= 4.0 * std::sqrt(1.0 / 12.0 / draws));
}

TEST_CASE("combine: routes of one wash", "[strength][combine]") {
    const double e = 0.0637, x = 0.0195;
    const Uncertain gravity = Uncertain::input(wash::gravity_20_20(e, x), 5e-4, "gravity");
    const FoundStrength seen =
        strength_from_hydrometer_and_refractometer(gravity, Uncertain::input(wash_refraction::index(e, x, 20.0), 1.5e-4, "refractive index"));
    const FoundStrength boiled = strength_from_boiled_down(gravity, Uncertain::input(wash::gravity_20_20(0.0, x), 5e-4, "gravity after"), made_up_to::mass);
    const FoundStrength distilled = strength_from_distilled_sample(Uncertain::input(2.5 * wash::abv(e, x), 0.002, "alcoholometer"), Uncertain(100.0),
                                                                   Uncertain(250.0), gravity, {1.0, 0.0});
    const CombinedStrength c = combine({seen, boiled, distilled});
    CHECK(std::abs(c.abv.value() - wash::abv(e, x)) <= 1e-9);
    CHECK(c.consistent);
    CHECK(c.agreements[2].weight > c.agreements[0].weight);
    CHECK(c.abv.standard_uncertainty() <= distilled.abv.standard_uncertainty());
    // The gravity counts once, with the weights it comes in by.
    double amount = 0.0, expected = 0.0;
    for (const contribution& part : c.abv.budget()) amount += part.name == "gravity" ? part.amount : 0.0;
    for (const auto& [f, a] : {std::pair{&seen, &c.agreements[0]}, {&boiled, &c.agreements[1]}, {&distilled, &c.agreements[2]}}) {
        for (const contribution& part : f->abv.budget()) expected += part.name == "gravity" ? a->weight * part.amount : 0.0;
    }
    CHECK(std::abs(amount - expected) <= 1e-12);
    CHECK(std::abs(amount) > 0.0);
}

TEST_CASE("combine: errors", "[strength][combine][errors]") {
    CHECK(input_error({}) == "combine needs at least two strengths; got 0");
    CHECK(input_error({strength("a", 0.08, 0.001)}) == "combine needs at least two strengths; got 1");
    const std::string without = "strength by b needs a value and a standard uncertainty above zero; got ";
    CHECK(input_error({strength("a", 0.08, 0.001), strength("b", Uncertain(0.08))}) == without + "8 % vol and 0 % vol");
    CHECK(input_error({strength("a", 0.08, 0.001), strength("b", not_a_number, 0.001)}) == without + "nan % vol and 0.1 % vol");
    CHECK(input_error({strength("a", 0.08, 0.001), strength("b", infinity, 0.001)}) == without + "inf % vol and 0.1 % vol");
    CHECK(input_error({strength("a", 0.08, 0.001), strength("b", 0.08, not_a_number)}) == without + "8 % vol and nan % vol");
}

TEST_CASE("combine: strengths that share all their doubt are refused", "[strength][combine]") {
    const Uncertain shared = Uncertain::input(0.0, 0.001, "one reading");
    const auto of = [&](const char* route, const double abv) {
        FoundStrength f;
        f.route = route;
        f.abv = shared + abv;
        return f;
    };
    CHECK_THROWS_AS(combine({of("a", 0.05), of("b", 0.06)}), InputError);
    CHECK_THROWS_AS(combine({of("a", 0.05), of("a", 0.05)}), InputError);
    // With a doubt of their own they weigh.
    FoundStrength own = of("b", 0.06);
    own.abv += Uncertain::input(0.0, 0.001, "its own");
    CHECK(std::abs(combine({of("a", 0.05), own}).abv.value() - 0.05) <= 1e-12);
}

TEST_CASE("combine: the formulas' doubts are shared", "[strength][combine]") {
    const auto gravity = [] { return Uncertain::input(0.998, 5e-4, "gravity"); };
    const FoundStrength first = strength_from_boiled_down(gravity(), Uncertain::input(1.008, 5e-4, "gravity after"));
    const FoundStrength second = strength_from_boiled_down(gravity(), Uncertain::input(1.008, 5e-4, "gravity after"));
    const double doubt = first.abv.standard_uncertainty();
    CHECK(covariance(first.abv, second.abv) > 0.0);
    CHECK(covariance(first.abv, second.abv) < 0.1 * doubt * doubt);
    const double both = combine({first, second}).abv.standard_uncertainty();
    CHECK(both > doubt / std::sqrt(2.0));
    CHECK(both < doubt);
}
