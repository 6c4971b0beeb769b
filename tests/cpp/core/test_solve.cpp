#include <cmath>
#include <ferment/core/lanes.hpp>
#include <ferment/core/polynomial.hpp>
#include <ferment/core/solve.hpp>
#include <limits>

#include "catch.hpp"

namespace num = ferment::num;
using ferment::Lanes;

namespace {

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

/// x^3 - target, rising, with a slope of zero at x = 0.
template <class T>
auto cube_minus(const T& target) {
    return [target](const T& x) { return num::value_and_slope<T>{x * x * x - target, 3.0 * x * x}; };
}

template <class T>
T cube_root(const T& target) {
    return num::bracketed_newton<T>(cube_minus(target), T(-2.0), T(3.0), T(1.0));
}

}  // namespace

TEST_CASE("bracketed Newton finds the root to round-off", "[core][solve]") {
    for (const double x : {-1.9, -1.0, -1e-3, 1e-3, 0.5, 1.0, 2.0, 2.999}) {
        CAPTURE(x);
        CHECK(std::abs(cube_root(x * x * x) - x) <= 4.0 * std::numeric_limits<double>::epsilon() * std::abs(x));
    }
}

TEST_CASE("bracketed Newton takes both ends of its range as roots", "[core][solve][edges]") {
    CHECK(cube_root(-8.0) == -2.0);
    CHECK(cube_root(27.0) == 3.0);
}

TEST_CASE("bracketed Newton gives NaN where there is no root", "[core][solve][edges]") {
    CHECK(std::isnan(cube_root(-8.001)));
    CHECK(std::isnan(cube_root(27.001)));
    CHECK(std::isnan(cube_root(not_a_number)));
    CHECK(std::isnan(cube_root(std::numeric_limits<double>::infinity())));
}

TEST_CASE("bracketed Newton works on a falling function and from a start outside the bracket", "[core][solve]") {
    const auto falling = [](const double x) { return num::value_and_slope<double>{2.0 - x * x, -2.0 * x}; };
    for (const double start : {-5.0, 0.1, 1.5, 99.0, not_a_number}) {
        CAPTURE(start);
        CHECK(std::abs(num::bracketed_newton<double>(falling, 0.0, 2.0, start) - std::sqrt(2.0)) <= 4.0 * std::numeric_limits<double>::epsilon());
    }
}

TEST_CASE("a slope that is too flat, zero or of the wrong sign falls back on bisection", "[core][solve]") {
    for (const double slope : {1e-9, 0.0, -3.0, not_a_number}) {
        const auto f = [slope](const double x) { return num::value_and_slope<double>{std::exp(x) - 2.0, slope}; };
        CAPTURE(slope);
        CHECK(std::abs(num::bracketed_newton<double>(f, -10.0, 10.0, 0.0) - std::log(2.0)) <= 1e-15);
    }
}

TEST_CASE("a function steep in the middle and flat on both sides does not send Newton round in circles", "[core][solve]") {
    // From one flat side Newton's step of such a function leads to the other, and back.
    for (const double steepness : {5.0, 30.0, 200.0, 1e4}) {
        for (const double root : {0.05, 0.3, 0.719, 0.98}) {
            for (const double start : {0.0, 0.2, 0.5, 0.564, 0.9, 1.0}) {
                const auto f = [&](const double x) {
                    const double z = steepness * (x - root);
                    return num::value_and_slope<double>{z / std::sqrt(1.0 + z * z), steepness / std::pow(1.0 + z * z, 1.5)};
                };
                CAPTURE(steepness, root, start);
                CHECK(std::abs(num::bracketed_newton<double>(f, 0.0, 1.0, start) - root) <= 1e-15);
            }
        }
    }
}

TEST_CASE("eight lanes solve what eight scalars solve", "[core][solve][lanes]") {
    Lanes target;
    target << -8.0, -1.0, 1e-6, 1.0, 8.0, 27.0, 28.0, not_a_number;
    const Lanes roots = cube_root(target);
    for (Eigen::Index i = 0; i < target.size(); ++i) {
        const double expected = cube_root(double(target[i]));
        CAPTURE(i, target[i], roots[i], expected);
        const double round_off = 4.0 * std::numeric_limits<double>::epsilon() * std::abs(expected);
        CHECK((std::isnan(expected) ? std::isnan(roots[i]) : std::abs(roots[i] - expected) <= round_off));
    }
}
