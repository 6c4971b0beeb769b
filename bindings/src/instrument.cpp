#include <ferment/instrument/alcoholometer.hpp>
#include <ferment/instrument/ebulliometer.hpp>
#include <ferment/instrument/hydrometer.hpp>
#include <ferment/instrument/refractometer.hpp>
#include <limits>

#include "edge.hpp"
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

using Block = std::array<double, static_cast<std::size_t>(largest_block)>;

/// Corrects a block of one instrument and one kind of liquid by the array form of the library. False where they differ; NaN where the instrument
/// cannot be.
bool corrected_together(const double* const* in, std::array<Block, 4>& parts, const std::ptrdiff_t n) {
    for (const std::size_t k : {2U, 4U, 5U, 6U, 7U}) {
        for (std::ptrdiff_t i = 0; i < n; ++i) {
            if (in[k][i] != in[k][0]) return false;
        }
    }
    try {
        const Hydrometer hydrometer(static_cast<hydrometer_scale>(static_cast<int>(in[4][0])), degrees(in[5][0]), in[6][0], in[7][0]);
        const auto liquid = static_cast<int>(in[2][0]);
        const Hydrometer::CorrectedArrays to{parts[0].data(), parts[1].data(), parts[2].data(), parts[3].data()};
        Block known;
        for (std::ptrdiff_t i = 0; i < n; ++i) known[static_cast<std::size_t>(i)] = in[3][i] / percent;
        if (liquid == wash_of_strength || liquid == wash_of_extract) {
            const SampleWash::known what = liquid == wash_of_strength ? SampleWash::known::strength : SampleWash::known::extract;
            in_widest([&] { hydrometer.correct(in[0], in[1], what, known.data(), to, n); });
        } else if (liquid == spirit) {
            in_widest([&] { hydrometer.correct(in[0], in[1], SampleSpirit{}, to, n); });
        } else {
            in_widest([&] { hydrometer.correct(in[0], in[1], SampleWort{}, to, n); });
        }
    } catch (const Error&) {
        for (Block& part : parts) part.fill(std::numeric_limits<double>::quiet_NaN());
    }
    return true;
}

template <class Part>
struct HydrometerFormula {
    static void elements(const double* const* in, double* out, const std::ptrdiff_t n) {
        // NOLINTNEXTLINE(cppcoreguidelines-pro-type-member-init): filled before it is read
        std::array<Block, 4> parts;
        if (corrected_together(in, parts, n)) {
            for (std::ptrdiff_t i = 0; i < n; ++i) out[i] = Part::unit * parts[Part::index][static_cast<std::size_t>(i)];
        } else {
            for (std::ptrdiff_t i = 0; i < n; ++i) out[i] = value(in[0][i], in[1][i], in[2][i], in[3][i], in[4][i], in[5][i], in[6][i], in[7][i]);
        }
    }
    static double value(const double a, const double b, const double c, const double d, const double e, const double f, const double g, const double h) {
        return or_nan([&] { return Part::of(correct(a, b, c, d, e, f, g, h)); });
    }
    static void check(const double a, const double b, const double c, const double d, const double e, const double f, const double g, const double h) {
        correct(a, b, c, d, e, f, g, h);
    }
};

struct Gravity {
    static constexpr std::size_t index = 0;
    static constexpr double unit = 1.0;
    static double of(const CorrectedReading& r) { return r.gravity.value(); }
};
struct DensityAtSample {
    static constexpr std::size_t index = 1;
    static constexpr double unit = 1.0;
    static double of(const CorrectedReading& r) { return r.at_sample.value(); }
};
struct Strength {
    static constexpr std::size_t index = 2;
    static constexpr double unit = percent;
    static double of(const CorrectedReading& r) { return value_in(r.strength, percent_mass); }
};
struct RealExtract {
    static constexpr std::size_t index = 3;
    static constexpr double unit = percent;
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

// What the glass shows in a spirit of known strength.
double alcoholometer_shows_abv(const double strength, const double t, const double expansion) {
    return value_in(Alcoholometer(expansion).reads(strength * percent_vol, degrees(t)), percent_vol);
}
double alcoholometer_shows_proof(const double strength, const double t, const double expansion) {
    return Alcoholometer(expansion).reads(strength * us_proof_degree, degrees(t)).value();
}

SampleWash wash_known(const double liquid, const double known) {
    return {static_cast<int>(liquid) == wash_of_strength ? SampleWash::known::strength : SampleWash::known::extract, known / percent};
}
Refractometer refractometer(const double scale, const double zero) {
    return Refractometer(static_cast<refractometer_scale>(static_cast<int>(scale)), zero);
}

struct Brix {
    static double of(const CorrectedRefraction& r) { return value_in(r.brix, degree_plato); }
};
struct DryMatter {
    static double of(const CorrectedRefraction& r) { return value_in(r.dry_matter, degree_plato); }
};
struct IndexAtReference {
    static double of(const CorrectedRefraction& r) { return r.refractive_index; }
};
struct IndexAtSample {
    template <class Reading>
    static double of(const Reading& r) {
        return r.at_sample;
    }
};
struct WashAbw {
    static double of(const RefractedWash& r) { return value_in(r.strength, percent_mass); }
};
struct WashExtract {
    static double of(const RefractedWash& r) { return value_in(r.real_extract, degree_plato); }
};

template <class Part>
double corrected_wort(const double reading, const double t, const double sugar, const double scale, const double zero) {
    return Part::of(refractometer(scale, zero).correct(reading, degrees(t), static_cast<refractometer_sugar>(static_cast<int>(sugar))));
}
template <class Part>
double corrected_wash(const double reading, const double t, const double liquid, const double known, const double scale, const double zero) {
    return Part::of(refractometer(scale, zero).correct(reading, degrees(t), wash_known(liquid, known)));
}
double refractometer_shows(const double abw, const double extract, const double t, const double scale, const double zero) {
    return refractometer(scale, zero).reads(abw * percent_mass, extract * degree_plato, degrees(t));
}

struct BoilingAbw {
    static double of(const EbulliometerReading& r) { return value_in(r.strength, percent_mass); }
};
struct BoilingAbv {
    static double of(const EbulliometerReading& r) { return value_in(r.by_volume, percent_vol); }
};
struct BoilingPressure {
    static double of(const EbulliometerReading& r) { return value_in(r.at_pressure, kilopascal); }
};
struct BoilingSlope {
    static double of(const EbulliometerReading& r) { return percent * r.abv_per_kelvin; }
};
template <class Part>
double boiling_at_pressure(const double t, const double pressure_kpa, const double extract, const double correction, const double molar_mass) {
    return Part::of(Ebulliometer(correction, molar_mass).strength(degrees(t), pressure_kpa * kilopascal, extract * degree_plato));
}
template <class Part>
double boiling_against_water(const double water, const double wash, const double extract, const double correction, const double molar_mass) {
    return Part::of(Ebulliometer(correction, molar_mass).strength_against_water(degrees(water), degrees(wash), extract * degree_plato));
}
double ebulliometer_shows(const double abw, const double extract, const double pressure_kpa, const double correction, const double molar_mass) {
    return Ebulliometer(correction, molar_mass).reads(abw * percent_mass, extract * degree_plato, pressure_kpa * kilopascal).value();
}

void bind_refractometer(py::module_& m) {
    constexpr std::array<const char*, 5> wort_arguments{"reading", "temperature_c", "sugar", "scale", "zero"};
    def_elementwise<DoorFormula<&corrected_wort<Brix>>>(m, "refractometer_brix", wort_arguments, "Degrees Brix at 20 degC.");
    def_elementwise<DoorFormula<&corrected_wort<DryMatter>>>(m, "refractometer_dry_matter", wort_arguments, "Extract of the wort [% mass].");
    def_elementwise<DoorFormula<&corrected_wort<IndexAtReference>>>(m, "refractometer_index_20c", wort_arguments, "nD at 20 degC.");
    def_elementwise<DoorFormula<&corrected_wort<IndexAtSample>>>(m, "refractometer_index", wort_arguments, "nD at the sample's temperature.");
    constexpr std::array<const char*, 6> wash_arguments{"reading", "temperature_c", "liquid", "known", "scale", "zero"};
    def_elementwise<DoorFormula<&corrected_wash<WashAbw>>>(m, "refractometer_wash_abw", wash_arguments, "Ethanol of the wash [% mass].");
    def_elementwise<DoorFormula<&corrected_wash<WashExtract>>>(m, "refractometer_wash_extract", wash_arguments, "Real extract of the wash [% mass].");
    def_elementwise<DoorFormula<&corrected_wash<IndexAtSample>>>(m, "refractometer_wash_index", wash_arguments, "nD at the sample's temperature.");
    constexpr std::array<const char*, 5> composition{"abw", "extract", "temperature_c", "scale", "zero"};
    def_elementwise<DoorFormula<&refractometer_shows>>(m, "refractometer_reading", composition, "What a refractometer shows, in units of its scale.");
}

void bind_ebulliometer(py::module_& m) {
    constexpr std::array<const char*, 5> at_pressure{"boiling_c", "pressure_kpa", "extract", "correction", "molar_mass"};
    def_elementwise<DoorFormula<&boiling_at_pressure<BoilingAbw>>>(m, "ebulliometer_abw", at_pressure, "Ethanol of the wash [% mass].");
    def_elementwise<DoorFormula<&boiling_at_pressure<BoilingAbv>>>(m, "ebulliometer_abv", at_pressure, "Strength of the wash [% vol at 20 degC].");
    def_elementwise<DoorFormula<&boiling_at_pressure<BoilingPressure>>>(m, "ebulliometer_pressure", at_pressure, "Pressure [kPa].");
    def_elementwise<DoorFormula<&boiling_at_pressure<BoilingSlope>>>(m, "ebulliometer_slope", at_pressure, "Change of the strength [% vol per K].");
    constexpr std::array<const char*, 5> against_water{"water_boiling_c", "wash_boiling_c", "extract", "correction", "molar_mass"};
    def_elementwise<DoorFormula<&boiling_against_water<BoilingAbw>>>(m, "ebulliometer_water_abw", against_water, "Ethanol of the wash [% mass].");
    def_elementwise<DoorFormula<&boiling_against_water<BoilingAbv>>>(m, "ebulliometer_water_abv", against_water, "Strength [% vol at 20 degC].");
    def_elementwise<DoorFormula<&boiling_against_water<BoilingSlope>>>(m, "ebulliometer_water_slope", against_water, "Its change [% vol per K].");
    def_elementwise<DoorFormula<&boiling_against_water<BoilingPressure>>>(m, "ebulliometer_water_pressure", against_water, "Pressure [kPa].");
    constexpr std::array<const char*, 5> composition{"abw", "extract", "pressure_kpa", "correction", "molar_mass"};
    def_elementwise<DoorFormula<&ebulliometer_shows>>(m, "ebulliometer_reading", composition, "What the thermometer shows [degC].");
    m.attr("usual_extract_molar_mass") = wash_vapour::extract_molar_mass;
}

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
    constexpr std::array<const char*, 3> spirit_arguments{"strength", "temperature_c", "glass_expansion"};
    def_elementwise<DoorFormula<&alcoholometer_shows_abv>>(m, "alcoholometer_reads_abv", spirit_arguments, "What an alcoholometer shows [% vol].");
    def_elementwise<DoorFormula<&alcoholometer_shows_proof>>(m, "alcoholometer_reads_us_proof", spirit_arguments, "What one in US proof shows.");
    bind_refractometer(m);
    bind_ebulliometer(m);
    m.attr("conventional_glass_expansion") = conventional_glass_expansion;
}

}  // namespace ferment_python
