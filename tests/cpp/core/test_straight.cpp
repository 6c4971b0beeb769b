#include <cmath>
#include <ferment/core/straight.hpp>
#include <limits>
#include <random>

#include "catch.hpp"

using ferment::num::straight;

TEST_CASE("straight: exp, log, pow and cos against those of the C library", "[core][straight]") {
    // No source but the functions of <cmath>, which are within a unit in the last place.
    constexpr double epsilon = std::numeric_limits<double>::epsilon();
    std::mt19937_64 engine(1);
    std::uniform_real_distribution<double> side(-1.0, 1.0);
    double of_exp = 0.0, of_log = 0.0, of_log_near_one = 0.0, of_pow = 0.0, of_cos = 0.0;
    for (int i = 0; i < 200000; ++i) {
        const double x = 700.0 * side(engine);
        of_exp = std::max(of_exp, std::abs(exp(straight(x)).v / std::exp(x) - 1.0));
        const double y = std::exp(x);
        of_log = std::max(of_log, std::abs(log(straight(y)).v / std::log(y) - 1.0));
        const double near_one = 1.0 + 0.4 * side(engine);
        of_log_near_one = std::max(of_log_near_one, std::abs(log(straight(near_one)).v / std::log(near_one) - 1.0));
        const double base = std::exp(10.0 * side(engine)), power = 10.0 * side(engine);
        of_pow = std::max(of_pow, std::abs(pow(straight(base), straight(power)).v / std::pow(base, power) - 1.0));
        const double angle = 2500.0 * side(engine);  // more than a year in radians of the day
        of_cos = std::max(of_cos, std::abs(cos(straight(angle)).v - std::cos(angle)));
    }
    CAPTURE(of_exp, of_log, of_log_near_one, of_pow, of_cos);
    CHECK(of_exp <= 4.0 * epsilon);
    CHECK(of_log <= 4.0 * epsilon);
    CHECK(of_log_near_one <= 4.0 * epsilon);
    CHECK(of_pow <= 1e-13);
    CHECK(of_cos <= 1e-12);
}

TEST_CASE("straight: at the ends", "[core][straight]") {
    constexpr double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK(exp(straight(0.0)).v == 1.0);
    CHECK(log(straight(1.0)).v == 0.0);
    CHECK(cos(straight(0.0)).v == 1.0);
    CHECK(exp(straight(-1e9)).v == exp(straight(-708.0)).v);
    CHECK(exp(straight(1e9)).v == exp(straight(709.0)).v);
    CHECK(log(straight(0.0)).v <= -708.0);
    CHECK(std::isnan(log(straight(-1.0)).v));
    for (const double power : {0.5, 1.0, 3.0}) CHECK(pow(straight(0.0), straight(power)).v == 0.0);
    CHECK(std::isnan(exp(straight(nan)).v));
    CHECK(std::isnan(log(straight(nan)).v));
    CHECK(std::isnan(pow(straight(nan), straight(2.0)).v));
    CHECK(std::isnan(pow(straight(2.0), straight(nan)).v));
    CHECK(std::isnan(cos(straight(nan)).v));
}
