#include <array>
#include <ferment/core/polynomial.hpp>

#include "catch.hpp"

namespace num = ferment::num;

TEST_CASE("Horner's rule takes coefficients lowest power first", "[core][polynomial]") {
    constexpr std::array<double, 4> c{1.0, -2.0, 0.5, 4.0};
    STATIC_REQUIRE(num::horner(c, 0.0) == 1.0);
    STATIC_REQUIRE(num::horner(c, 2.0) == 1.0 - 4.0 + 2.0 + 32.0);
    STATIC_REQUIRE(num::horner(std::array<double, 1>{7.0}, 3.0) == 7.0);
}

TEST_CASE("the derivative of a coefficient table", "[core][polynomial]") {
    constexpr std::array<double, 4> c{1.0, -2.0, 0.5, 4.0};
    STATIC_REQUIRE(num::derivative(c) == std::array<double, 3>{-2.0, 1.0, 12.0});
}
