// Two jars of spirit poured together, reduced to bottling strength and filled.
#include <array>
#include <cstdio>
#include <ferment/instrument/alcoholometer.hpp>
#include <ferment/proofing.hpp>

int main() {
    using namespace ferment;
    const Alcoholometer glass;
    const celsius<> shed = 12.0 * degree_celsius;
    const abw<> first = abw_from_abv(glass.correct(68.5 * percent_vol, shed));
    const abw<> second = abw_from_abv(glass.correct(61.0 * percent_vol, shed));
    const std::array<SpiritMass, 2> jars{weigh(3.2 * litre, first, shed), weigh(1.9 * litre, second, shed)};

    const SpiritMass together = blend(jars);
    std::printf("together  %.2f %% vol, %.3f kg\n", value_in(abv_from_abw(strength_of(together)), percent_vol), together.total.value());
    const Dilution reduced = dilute(together, abw_from_abv(43.0 * percent_vol), shed);
    std::printf("water     %.3f kg\n", reduced.water.value());
    std::printf("after     %.3f L at 20 degC, %.0f mL less than went in\n", value_in(reduced.volume_at_20c, litre), 1e3 * value_in(reduced.contraction, litre));
    const Bottling filled = bottles(reduced.result, 0.5 * litre, shed);
    std::printf("bottles   %ld, %.1f mL into each at 12 degC\n", filled.full, 1e3 * value_in(filled.fill_volume, litre));
    try {
        static_cast<void>(dilute(together, abw_from_abv(70.0 * percent_vol)));
    } catch (const RangeError& error) {
        std::printf("%s\n", error.what());
    }
}
