#include <ferment/instrument/alcoholometer.hpp>
#include <ferment/instrument/hydrometer.hpp>

#include "elementwise.hpp"
#include "module.hpp"

namespace ferment_python {

using namespace ferment;

namespace {

// Choices travel through the array loop as numbers; ferment/instrument.py gives them names.
enum Liquid { wort = 0, spirit = 1, wash_of_strength = 2, wash_of_extract = 3 };

CorrectedReading correct(const double reading, const double t, const double liquid, const double known, const double scale, const double calibration,
                         const double expansion, const double meniscus) {
    const Hydrometer hydrometer(static_cast<hydrometer_scale>(static_cast<int>(scale)), calibration * degree_celsius, expansion, meniscus);
    const celsius<> temperature = t * degree_celsius;
    switch (static_cast<int>(liquid)) {
        case spirit: return hydrometer.correct(reading, temperature, SampleSpirit{});
        case wash_of_strength: return hydrometer.correct(reading, temperature, SampleWash{SampleWash::known::strength, known / ferment::detail::percent});
        case wash_of_extract: return hydrometer.correct(reading, temperature, SampleWash{SampleWash::known::extract, known / ferment::detail::percent});
        default: return hydrometer.correct(reading, temperature, SampleWort{});
    }
}

template <class Part>
struct HydrometerFormula {
    static double value(const double a, const double b, const double c, const double d, const double e, const double f, const double g, const double h) {
        return or_nan([&] { return Part::of(correct(a, b, c, d, e, f, g, h)); });
    }
    static void check(const double a, const double b, const double c, const double d, const double e, const double f, const double g, const double h) {
        correct(a, b, c, d, e, f, g, h);
    }
};
struct Gravity {
    static double of(const CorrectedReading& r) { return r.gravity.value(); }
};
struct DensityAtSample {
    static double of(const CorrectedReading& r) { return r.at_sample.value(); }
};
struct Strength {
    static double of(const CorrectedReading& r) { return value_in(r.strength, percent_mass); }
};
struct RealExtract {
    static double of(const CorrectedReading& r) { return value_in(r.real_extract, degree_plato); }
};

struct HydrometerStem {
    static double value(const double abw, const double extract, const double t, const double scale, const double calibration, const double expansion,
                        const double meniscus) {
        return or_nan([&] { return door(abw, extract, t, scale, calibration, expansion, meniscus); });
    }
    static double door(const double abw, const double extract, const double t, const double scale, const double calibration, const double expansion,
                       const double meniscus) {
        const Hydrometer hydrometer(static_cast<hydrometer_scale>(static_cast<int>(scale)), calibration * degree_celsius, expansion, meniscus);
        return hydrometer.reads(abw * percent_mass, extract * degree_plato, t * degree_celsius);
    }
    static void check(const double abw, const double extract, const double t, const double scale, const double calibration, const double expansion,
                      const double meniscus) {
        door(abw, extract, t, scale, calibration, expansion, meniscus);
    }
};

struct AlcoholometerAbv {
    static double value(const double reading, const double t, const double expansion) {
        return or_nan([&] { return door(reading, t, expansion); });
    }
    static double door(const double reading, const double t, const double expansion) {
        return value_in(Alcoholometer(expansion).correct(reading * percent_vol, t * degree_celsius), percent_vol);
    }
    static void check(const double reading, const double t, const double expansion) { door(reading, t, expansion); }
};
struct AlcoholometerProof {
    static double value(const double reading, const double t, const double expansion) {
        return or_nan([&] { return door(reading, t, expansion); });
    }
    static double door(const double reading, const double t, const double expansion) {
        return Alcoholometer(expansion).correct(reading * us_proof_degree, t * degree_celsius).value();
    }
    static void check(const double reading, const double t, const double expansion) { door(reading, t, expansion); }
};

}  // namespace

void bind_instrument(py::module_& m) {
    constexpr std::array<const char*, 8> arguments{"reading", "temperature_c", "liquid", "known", "scale", "calibration_c", "glass_expansion", "meniscus"};
    def_elementwise<HydrometerFormula<Gravity>>(m, "hydrometer_gravity", arguments, "True SG 20/20 of a hydrometer reading.");
    def_elementwise<HydrometerFormula<DensityAtSample>>(m, "hydrometer_density", arguments, "Density at the sample's temperature [kg/m3].");
    def_elementwise<HydrometerFormula<Strength>>(m, "hydrometer_abw", arguments, "Ethanol of the sample [% mass].");
    def_elementwise<HydrometerFormula<RealExtract>>(m, "hydrometer_extract", arguments, "Real extract of the sample [% mass].");
    constexpr std::array<const char*, 7> composition{"abw", "extract", "temperature_c", "scale", "calibration_c", "glass_expansion", "meniscus"};
    def_elementwise<HydrometerStem>(m, "hydrometer_reading", composition, "What a hydrometer shows in a wash, in units of its scale.");
    constexpr std::array<const char*, 3> short_arguments{"reading", "temperature_c", "glass_expansion"};
    def_elementwise<AlcoholometerAbv>(m, "alcoholometer_abv", short_arguments, "True % vol at 20 degC of an alcoholometer reading.");
    def_elementwise<AlcoholometerProof>(m, "alcoholometer_us_proof", short_arguments, "True US proof of an alcoholometer reading.");
    m.attr("conventional_glass_expansion") = conventional_glass_expansion;
}

}  // namespace ferment_python
