// What water and a spirit weigh in a shed, and what a hydrometer's 1.048 says of the extract.
#include <cstdio>
#include <ferment/liquid/gravity.hpp>
#include <ferment/liquid/spirit.hpp>
#include <ferment/liquid/water.hpp>

int main() {
    using namespace ferment;
    const celsius<> room = 20.0 * degree_celsius;
    const celsius<> shed = 8.0 * degree_celsius;
    const abv<> strength = 40.0 * percent_vol;

    std::printf("water at 20 degC             %8.3f kg/m3\n", value_in(water_density(room), kilogram_per_cubic_metre));
    std::printf("spirit of 40 %% vol at 20 degC %7.2f kg/m3\n", value_in(spirit_density(strength, room), kilogram_per_cubic_metre));
    std::printf("spirit of 40 %% vol at 8 degC  %7.2f kg/m3\n", value_in(spirit_density(strength, shed), kilogram_per_cubic_metre));
    std::printf("it is                         %7.2f %% mass, %.2f US proof\n", value_in(abw_from_abv(strength), percent_mass),
                value_in(us_proof_from_abv(strength), us_proof_degree));
    std::printf("wort of 1.048 is              %7.2f degrees Plato\n", value_in(plato_from_sg(1.048 * sg_20_20), degree_plato));
    try {
        static_cast<void>(spirit_density(strength, 60.0 * degree_celsius));
    } catch (const RangeError& error) {
        std::printf("%s\n", error.what());
    }
}
