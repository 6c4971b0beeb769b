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

TEST_CASE("a polynomial about one half, and one that starts with a number", "[core][polynomial]") {
    const std::array<double, 4> c{1.0, -2.0, 0.5, 4.0};  // all of it exact in binary
    const std::array<double, 4> shifted = num::about_one_half(c);
    const std::array<double, 5> longer = num::after(3.0, c);
    for (const double x : {-1.0, 0.0, 0.25, 0.5, 2.0}) {
        CAPTURE(x);
        CHECK(num::horner(shifted, x - 0.5) == num::horner(c, x));
        CHECK(num::horner(longer, x) == 3.0 + x * num::horner(c, x));
    }
    // Terms of 1e6 that cancel: (x - 1/2)^2 times a million, written in powers of x.
    const std::array<double, 3> cancelling{0.25e6, -1e6, 1e6};
    CHECK(num::about_one_half(cancelling) == std::array<double, 3>{0.0, 0.0, 1e6});
}
