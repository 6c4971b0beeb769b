#include <cmath>
#include <ferment/proofing/bottling.hpp>
#include <ferment/proofing/dilution.hpp>

#include "liquid/checks.hpp"

using namespace ferment;
using namespace ferment_test;

namespace {

constexpr double conserved = 1e-12;  // relative
const celsius<> at_20c = 20.0 * degree_celsius;

bool close(const double a, const double b, const double relative = conserved) {
    return std::abs(a - b) <= relative * std::abs(b);
}
SpiritMass of(const double l, const double t = 20.0, const double abv_percent = 40.0) {
    return weigh(l * litre, abw_from_abv(abv_percent * percent_vol), t * degree_celsius);
}
double litres(const volume<>& v) {
    return value_in(v, litre);
}

}  // namespace

TEST_CASE("bottling: whole bottles and the rest", "[proofing]") {
    const Bottling b = bottles(of(10.0), 0.7 * litre, at_20c);
    CHECK(b.full == 14);
    CHECK(close(litres(b.rest_at_20c), 0.2, 1e-10));
    CHECK(close(litres(b.fill_volume), 0.7));
    CHECK(close(litres(b.volume_at_fill), 10.0));
    const Bottling none = bottles(of(0.5), 0.7 * litre, at_20c);
    CHECK(none.full == 0);
    CHECK(close(litres(none.rest_at_20c), 0.5));
}

TEST_CASE("bottling: a bottle that is full but for round-off is full", "[proofing]") {
    for (const double size : {0.05, 0.1, 0.2, 0.35, 0.5, 0.7, 0.75, 1.0, 1.75}) {
        for (long n = 1; n <= 200; ++n) {
            for (const double t : {4.0, 20.0, 31.0}) {
                // n bottles' worth at 20 degC, measured at another temperature and weighed in again
                const SpiritMass exact = of(static_cast<double>(n) * size);
                const SpiritMass spirit = weigh(volume_of(exact, t * degree_celsius), strength_of(exact), t * degree_celsius);
                const Bottling b = bottles(spirit, size * litre, t * degree_celsius);
                CAPTURE(size, n, t);
                CHECK(b.full == n);
                CHECK(litres(b.rest_at_20c) >= 0.0);
                CHECK(litres(b.rest_at_20c) <= 1e-9 * size);
            }
        }
    }
    CHECK(bottles(of(16.1), 0.7 * litre, at_20c).full == 23);
    CHECK(bottles(of(16.0999), 0.7 * litre, at_20c).full == 22);  // a tenth of a millilitre short is short
    CHECK(close(litres(bottles(of(16.0999), 0.7 * litre, at_20c).rest_at_20c), 0.6999, 1e-10));
}

TEST_CASE("bottling: the filler works at the temperature of the shed", "[proofing]") {
    const SpiritMass spirit = of(30.0);
    for (const double t : {-5.0, 6.0, 13.0, 20.0, 28.0, 40.0}) {
        const celsius<> shed = t * degree_celsius;
        const Bottling b = bottles(spirit, 0.7 * litre, shed);
        CAPTURE(t);
        CHECK(b.full == 42);  // the temperature changes no count
        CHECK(close(litres(b.rest_at_20c), 30.0 - 42.0 * 0.7, 1e-10));
        CHECK(close(litres(volume_of(weigh(b.fill_volume, strength_of(spirit), shed), at_20c)), 0.7));
        CHECK(close(litres(b.volume_at_fill), litres(volume_of(spirit, shed))));
        CHECK(((t < 20.0 && litres(b.fill_volume) < 0.7) || (t > 20.0 && litres(b.fill_volume) > 0.7) || t == 20.0));
    }
    // A dilution goes straight into bottles.
    const Dilution d = dilute_to_volume(abw_from_abv(70.0 * percent_vol), abw_from_abv(43.0 * percent_vol), 35.0 * litre);
    CHECK(bottles(d.result, 0.7 * litre, 15.0 * degree_celsius).full == 50);
}

TEST_CASE("bottling: errors and NaN", "[proofing]") {
    const SpiritMass spirit = of(10.0);
    const auto filling = [&](const double size, const double t) { return range_error([&] { (void)bottles(spirit, size * litre, t * degree_celsius); }); };
    CHECK(begins(filling(0.0, 20.0), "bottle 0 L must be a number above 0 L"));
    CHECK(begins(filling(-0.7, 20.0), "bottle -0.7 L must be a number above 0 L"));
    CHECK(begins(filling(not_a_number, 20.0), "bottle nan L must be a number above 0 L"));
    CHECK(begins(filling(infinity, 20.0), "bottle inf L must be a number above 0 L"));
    CHECK(begins(filling(0.7, 41.0), "temperature 41 degC is outside -20 to 40 degC"));
    CHECK(begins(filling(0.7, infinity), "temperature inf degC is outside"));
    CHECK(begins(filling(1e-18, 20.0), "bottle 1e-18 L is outside"));
    CHECK_THROWS_AS(bottles(weigh(1.0 * litre, not_a_number * percent_mass, at_20c), 0.7 * litre, at_20c), InputError);
    // The temperature of filling only moves the fill volume.
    const Bottling unknown = bottles(spirit, 0.7 * litre, not_a_number * degree_celsius);
    CHECK(unknown.full == 14);
    CHECK(std::isnan(unknown.fill_volume.value()));
    CHECK(std::isnan(unknown.volume_at_fill.value()));
}
