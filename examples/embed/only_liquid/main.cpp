// One wash, read warm and cold with a hydrometer made for 20 degC: what the stem shows differs, what the wash is does not.
#include <cstdio>
#include <ferment/instrument/hydrometer.hpp>
#include <ferment/liquid/wash.hpp>

int main() {
    using namespace ferment;
    const Hydrometer hydrometer;
    const abw<> strength = 4.0 * percent_mass;
    const extract<> dissolved = 4.5 * degree_plato;
    std::printf("gravity %.4f, %.2f %% vol\n", wash_gravity(strength, dissolved).value(), value_in(wash_abv(strength, dissolved), percent_vol));
    for (const double t : {8.0, 20.0, 28.0}) {
        const celsius<> temperature = t * degree_celsius;
        const double shown = hydrometer.reads(strength, dissolved, temperature);
        // Going back, a rough idea of the strength will do: it only says how the wash expands.
        const CorrectedReading found = hydrometer.correct(shown, temperature, SampleWash{SampleWash::known::strength, 0.05});
        std::printf("at %2.0f degC it weighs %.2f kg/m3, the stem shows %.4f, corrected %.4f\n", t,
                    value_in(wash_density(strength, dissolved, temperature), kilogram_per_cubic_metre), shown, found.gravity.value());
    }
    try {
        static_cast<void>(hydrometer.correct(1.012, 80.0 * degree_celsius, SampleWash{}));
    } catch (const RangeError& error) {
        std::printf("%s\n", error.what());
    }
}
