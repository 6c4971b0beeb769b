#include <algorithm>
#include <cmath>
#include <ferment/core/solve.hpp>
#include <ferment/core/uncertain.hpp>
#include <ferment/liquid/spirit.hpp>
#include <ferment/liquid/sucrose.hpp>
#include <ferment/liquid/wash.hpp>
#include <limits>
#include <string>
#include <type_traits>

#include "catch.hpp"

using ferment::correlation;
using ferment::covariance;
using ferment::Uncertain;

namespace {

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();
constexpr double roundoff = 1e-14;

bool close(const double a, const double b, const double relative = roundoff) {
    return std::abs(a - b) <= relative * std::max(1.0, std::abs(b));
}

}  // namespace

TEST_CASE("uncertain: independent inputs propagate as the GUM says", "[uncertain]") {
    // JCGM 100:2008, eq. (10): the squares of derivative x standard uncertainty add up.
    const Uncertain x = Uncertain::input(3.0, 0.1, "x");
    const Uncertain y = Uncertain::input(4.0, 0.2, "y");
    CHECK(close((x + y).standard_uncertainty(), std::hypot(0.1, 0.2)));
    CHECK(close((x - y).standard_uncertainty(), std::hypot(0.1, 0.2)));
    CHECK((x * y).value() == 12.0);
    CHECK(close((x * y).standard_uncertainty(), std::hypot(4.0 * 0.1, 3.0 * 0.2)));
    CHECK(close((x / y).standard_uncertainty(), std::hypot(0.1 / 4.0, 3.0 * 0.2 / 16.0)));
    CHECK(close((2.0 * x + 5.0 - 1.0 / y).standard_uncertainty(), std::hypot(2.0 * 0.1, 0.2 / 16.0)));
    CHECK(close((-x).standard_uncertainty(), 0.1));
    CHECK((-x).value() == -3.0);
    CHECK((+x).value() == 3.0);
}

TEST_CASE("uncertain: elementary functions", "[uncertain]") {
    const double v = 1.7;
    const double u = 0.05;
    const Uncertain x = Uncertain::input(v, u, "x");
    const Uncertain n = Uncertain::input(2.3, 0.4, "n");
    CHECK(close(exp(x).standard_uncertainty(), std::exp(v) * u));
    CHECK(close(log(x).standard_uncertainty(), u / v));
    CHECK(close(sqrt(x).standard_uncertainty(), 0.5 * u / std::sqrt(v)));
    CHECK(close(pow(x, 3.0).standard_uncertainty(), 3.0 * v * v * u));
    CHECK(close(pow(x, 3.0).value(), v * v * v));
    const double power = std::pow(v, 2.3);
    CHECK(close(pow(x, n).standard_uncertainty(), std::hypot(2.3 * std::pow(v, 1.3) * u, power * std::log(v) * 0.4)));
    CHECK(abs(-x).value() == v);
    CHECK(close(exp(log(x)).standard_uncertainty(), u));
}

TEST_CASE("uncertain: what shares an input is correlated exactly", "[uncertain]") {
    const Uncertain x = Uncertain::input(3.0, 0.1, "x");
    const Uncertain y = Uncertain::input(3.0, 0.1, "x");  // the same name, and yet another input
    CHECK((x - x).value() == 0.0);
    CHECK((x - x).standard_uncertainty() == 0.0);
    CHECK((x - x).budget().empty());
    CHECK((x / x).standard_uncertainty() == 0.0);
    CHECK(close((x + x).standard_uncertainty(), 0.2));
    CHECK(close((x - y).standard_uncertainty(), std::hypot(0.1, 0.1)));
    CHECK(close(correlation(x, 2.0 * x), 1.0));
    CHECK(close(correlation(x, -x), -1.0));
    CHECK(covariance(x, y) == 0.0);
    // u2(a + b) = u2(a) + u2(b) + 2 cov(a, b) for two results of the same inputs.
    const Uncertain a = x * y + exp(x);
    const Uncertain b = x / y;
    const double expected = std::sqrt(covariance(a, a) + covariance(b, b) + 2.0 * covariance(a, b));
    CHECK(close((a + b).standard_uncertainty(), expected));
    CHECK(std::isnan(correlation(x, Uncertain(2.0))));
}

TEST_CASE("uncertain: the budget names every input, the largest first", "[uncertain]") {
    const Uncertain x = Uncertain::input(3.0, 0.1, "x");
    const Uncertain y = Uncertain::input(4.0, 0.2, "y");
    const auto budget = (x - 10.0 * y).budget();
    REQUIRE(budget.size() == 2);
    CHECK(budget[0].name == "y");
    CHECK(close(budget[0].amount, -2.0));
    CHECK(budget[1].name == "x");
    CHECK(close(budget[1].amount, 0.1));
    CHECK((0.0 * x + y).budget().size() == 1);
    CHECK(Uncertain(5.0).budget().empty());
    CHECK(Uncertain::input(5.0, 0.0, "exact").budget().empty());
}

TEST_CASE("uncertain: compound assignment and comparisons on the value", "[uncertain]") {
    Uncertain x = Uncertain::input(3.0, 0.1, "x");
    const Uncertain first = x;
    x += 1.0;
    x *= first;
    x -= first;
    x /= 3.0;
    CHECK(close(x.value(), 3.0));
    CHECK(close(x.standard_uncertainty(), (2.0 * 3.0 + 1.0 - 1.0) / 3.0 * 0.1));
    const Uncertain low = Uncertain::input(1.0, 9.0, "low");
    CHECK(low < first);
    CHECK(low <= first);
    CHECK(first > low);
    CHECK(first >= low);
    CHECK(first == Uncertain(3.0));
    CHECK(first != low);
    CHECK(first > 2.0);
}

TEST_CASE("uncertain: NaN goes through, a doubt that makes no sense does not", "[uncertain][edges]") {
    CHECK(std::isnan(Uncertain::input(not_a_number, 0.1, "x").value()));
    CHECK(std::isnan((Uncertain::input(not_a_number, 0.1, "x") + 1.0).value()));
    CHECK(std::isnan(Uncertain::input(1.0, not_a_number, "x").standard_uncertainty()));
    CHECK(std::isnan(log(Uncertain::input(-1.0, 0.1, "x")).value()));
    CHECK(std::isnan(sqrt(Uncertain::input(-1.0, 0.1, "x")).value()));
    CHECK_THROWS_AS(Uncertain::input(1.0, -0.1, "x"), ferment::InputError);
    CHECK_THROWS_AS(Uncertain::input(1.0, std::numeric_limits<double>::infinity(), "x"), ferment::InputError);
    try {
        Uncertain::input(1.0, -0.1, "moisture");
        FAIL("no error");
    } catch (const ferment::InputError& e) {
        CHECK(std::string(e.what()).find("moisture") != std::string::npos);
        CHECK(std::string(e.what()).find("-0.1") != std::string::npos);
    }
}

TEST_CASE("uncertain: a scalar for every kernel", "[uncertain][kernel]") {
    const Uncertain p = Uncertain::input(0.40, 0.002, "abw");
    const Uncertain t = Uncertain::input(17.0, 0.3, "temperature");
    SECTION("spirit density: value to the bit, doubt by the analytic slope in strength and a central difference in temperature") {
        const Uncertain rho = ferment::oiml_r22::density(p, t);
        CHECK(close(rho.value(), ferment::oiml_r22::density(0.40, 17.0)));
        const double by_strength = ferment::oiml_r22::density_slope(0.40, 17.0) * 0.002;
        const double step = 1e-4;
        const double slope = (ferment::oiml_r22::density(0.40, 17.0 + step) - ferment::oiml_r22::density(0.40, 17.0 - step)) / (2.0 * step);
        CHECK(close(rho.standard_uncertainty(), std::hypot(by_strength, slope * 0.3), 1e-8));
    }
    SECTION("outside the range the value is NaN") {
        CHECK(std::isnan(ferment::oiml_r22::density(Uncertain(1.5), t).value()));
        CHECK(std::isnan(ferment::oiml_r22::density(p, Uncertain(41.0)).value()));
        CHECK(ferment::num::inside(p, {0.0, 1.0}));
        CHECK_FALSE(ferment::num::inside(Uncertain(not_a_number), {0.0, 1.0}));
        CHECK(ferment::num::value_of(p) == 0.40);
    }
    SECTION("an inverse undoes the forward formula with its doubt") {
        const Uncertain back = ferment::oiml_r22::abw_from_density(ferment::oiml_r22::density(p, t), t);
        CHECK(close(back.value(), 0.40, 1e-12));
        CHECK(close(back.standard_uncertainty(), 0.002, 1e-9));
        CHECK(close(covariance(back, t), 0.0, 1e-12));  // the temperature has gone again
    }
    SECTION("sucrose and wash") {
        const Uncertain w = Uncertain::input(0.12, 0.001, "extract");
        const double slope = ferment::icumsa_sps4::density_and_slope(0.12, 20.0).slope;
        CHECK(close(ferment::icumsa_sps4::density(w, Uncertain(20.0)).standard_uncertainty(), slope * 0.001, 1e-12));
        const Uncertain sg = ferment::wash::gravity_20_20(p * 0.2, w);
        CHECK(close(sg.value(), ferment::wash::gravity_20_20(0.08, 0.12)));
        CHECK(sg.budget().size() == 2);
    }
    SECTION("a solved root carries the doubt of its parameters") {
        // x^2 = a, so u(x) = u(a)/(2 x)
        const Uncertain a = Uncertain::input(2.0, 0.1, "a");
        const auto plain = [](const double x) { return ferment::num::value_and_slope<double>{x * x - 2.0, 2.0 * x}; };
        const auto full = [&](const Uncertain& x) { return ferment::num::value_and_slope<Uncertain>{x * x - a, 2.0 * x}; };
        const Uncertain root = ferment::num::bracketed_newton<Uncertain>(plain, full, 0.0, 2.0, 1.0);
        CHECK(close(root.value(), std::sqrt(2.0)));
        CHECK(close(root.standard_uncertainty(), 0.1 / (2.0 * std::sqrt(2.0))));
    }
}

TEST_CASE("measured: a stated number becomes an input", "[uncertain]") {
    const ferment::measured m{0.59, 0.02};
    const Uncertain x = m.as_input("starch");
    CHECK(x.value() == 0.59);
    CHECK(x.standard_uncertainty() == 0.02);
    REQUIRE(x.budget().size() == 1);
    CHECK(x.budget()[0].name == "starch");
    CHECK(m == ferment::measured{0.59, 0.02});
}
