#include <ferment/liquid/gravity.hpp>
#include <ferment/liquid/spirit.hpp>
#include <ferment/liquid/sucrose.hpp>
#include <ferment/liquid/wash.hpp>
#include <ferment/liquid/water.hpp>

#include "edge.hpp"
#include "elementwise.hpp"
#include "module.hpp"

namespace ferment_python {

using namespace ferment;

namespace {

constexpr Argument temperature_water{"temperature_c", "Temperature [degC], 0 to 100."};
constexpr Argument temperature_sucrose{"temperature_c", "Temperature [degC], 0 to 80."};
constexpr Argument temperature_spirit{"temperature_c", "Temperature [degC], -20 to 40, not below the freezing point of the mixture."};
constexpr Argument temperature_wash{"temperature_c", "Temperature [degC], 0 to 40."};
constexpr Argument abw_argument{"abw", "Ethanol by mass [%], 0 to 100."};
constexpr Argument abv_argument{"abv", "Strength by volume at 20 degC [% vol], 0 to 100."};
constexpr Argument extract_argument{"extract", "Extract by mass [%; degrees Plato], 0 to 70."};
constexpr Argument density_argument{"density", "Density [kg/m3], in vacuum."};

// What goes into an inverse and what comes out of it.
constexpr auto as_it_is = [](const double x) { return x; };
constexpr auto as_fraction = [](const double x) { return x / percent; };
constexpr auto in_percent = [](const double x) { return percent * x; };

// Gravities to densities, then the inverse of the sucrose formula.
struct PlatoFromGravity {
    static constexpr bool wide = true;
    static void elements(const double* const* in, double* out, const std::ptrdiff_t n) {
        // NOLINTNEXTLINE(cppcoreguidelines-pro-type-member-init): filled before it is read
        std::array<double, static_cast<std::size_t>(largest_block)> rho;
        for (std::ptrdiff_t i = 0; i < n; ++i) rho[static_cast<std::size_t>(i)] = wort_gravity::density(in[0][i], {in[1][i], in[2][i], in[3][i]});
        const std::array<const double*, 2> density_and_temperature{rho.data(), in[1]};
        num::solve_array<icumsa_sps4::by_density<>>(density_and_temperature.data(), out, n);
        for (std::ptrdiff_t i = 0; i < n; ++i) out[i] *= percent;
    }
    static void check(const double sg, const double s, const double w, const double a) { ferment::detail::extract_from_gravity(sg, {s, w, a}); }
};

void bind_water_and_sugar(py::module_& m) {
    def_wide<[](double t) { return iapws_sr6::density(t); }, [](double t) { water_density(degrees(t)); }>(
        m, "water_density", "Density of air-free water at atmospheric pressure [kg/m3].", std::array{temperature_water},
        "Density [kg/m3]; uncertainty 0.001 to 40 degC, 0.005 above.", iapws_sr6::from.citation);
    def_wide<[](double w, double t) { return icumsa_sps4::density(w / percent, t); },
             [](double w, double t) { sucrose_density(w * degree_plato, degrees(t)); }>(
        m, "sucrose_density", "Density of a sucrose solution, and of wort on the Plato scale [kg/m3].", std::array{extract_argument, temperature_sucrose},
        "Density [kg/m3].", icumsa_sps4::from.citation);
    def_inverse<icumsa_sps4::by_density<>, as_it_is, in_percent,
                [](double rho, double t) { extract_from_density(rho * kilogram_per_cubic_metre, degrees(t)); }>(
        m, "extract_from_density", "Extract of a sucrose solution from its density: the exact inverse of sucrose_density [% mass].",
        std::array{density_argument, temperature_sucrose}, "Extract [% mass], 0 to 70.", icumsa_sps4::from.citation);
    def_wide<[](double w) { return crc_glucose::density(w / percent); }, [](double w) { glucose_density(w * degree_plato); }>(
        m, "glucose_density", "Density of a glucose solution at 20 degC [kg/m3]: the extract of fully saccharified starch.",
        std::array{Argument{"extract", "Glucose by mass [%], 0 to 60."}}, "Density at 20 degC [kg/m3]; 0.06.", crc_glucose::from.citation);
    def_documented<[](double rho) { return percent * crc_glucose::extract_from_density(rho); },
                   [](double rho) { glucose_from_density(rho * kilogram_per_cubic_metre); }>(
        m, "glucose_from_density", "Glucose of a solution from its density at 20 degC: the exact inverse of glucose_density [% mass].",
        std::array{density_argument}, "Glucose [% mass], 0 to 60.", crc_glucose::from.citation);
    def_wide<[](double w, double t) { return wort_gravity::grams_per_litre(w / percent, t); },
             [](double w, double t) { extract_per_litre(w * degree_plato, degrees(t)); }>(
        m, "extract_per_litre", "Extract in a litre of wort at a temperature [g/L].", std::array{extract_argument, temperature_sucrose}, "Extract [g/L].",
        icumsa_sps4::from.citation);
    def_documented<[](double c, double t) { return percent * wort_gravity::extract_from_grams_per_litre(c, t); },
                   [](double c, double t) { extract_from_per_litre(c * gram_per_litre, degrees(t)); }>(
        m, "extract_from_per_litre", "Extract by mass from grams per litre at a temperature: the exact inverse of extract_per_litre [% mass].",
        std::array{Argument{"extract_g_l", "Extract in a litre [g/L], from 0."}, temperature_sucrose}, "Extract [% mass].", icumsa_sps4::from.citation);
}

// Gravities at any pair of reference temperatures; ferment/liquid.py turns "20/20" into the frame.
void bind_gravity(py::module_& m) {
    constexpr Argument sample{"sample_c", "Temperature of the sample in the definition of the gravity [degC]."};
    constexpr Argument water{"water_c", "Temperature of the water it is compared with [degC]."};
    constexpr Argument air{"air", "Density of the air it is weighed in [kg/m3]; 0 for the true gravity."};
    constexpr Argument gravity_argument{"gravity", "Specific gravity in the frame, from that of water up to 70 % sucrose."};
    constexpr std::array plato_arguments{gravity_argument, sample, water, air};
    def_elementwise<PlatoFromGravity>(
        m, "plato_from_gravity", plato_arguments,
        document("Degrees Plato from a specific gravity in any frame [% mass].", plato_arguments, "Extract [% mass].", icumsa_sps4::from.citation));
    def_wide<[](double p, double s, double w, double a) {
        return wort_gravity::from_extract(p / percent, {s, w, a});
    },
             [](double p, double s, double w, double a) {
                 ferment::detail::gravity_from_extract(p / percent, {s, w, a});
             }>(m, "gravity_from_plato", "Specific gravity in any frame from degrees Plato.", std::array{extract_argument, sample, water, air},
                "Specific gravity.", icumsa_sps4::from.citation);
    def_documented<[](double rho, double w, double a) { return or_nan([&] {
                                                            return ferment::detail::gravity_from_density(rho, {w, w, a});
                                                        }); },
                   [](double rho, double w, double a) {
                       ferment::detail::gravity_from_density(rho, {w, w, a});
                   }>(m, "gravity_from_density", "Specific gravity against water at a temperature from the density at the sample temperature.",
                      std::array{density_argument, water, air}, "Specific gravity.", icumsa_sps4::from.citation);
    def_documented<[](double sg, double w, double a) { return or_nan([&] {
                                                           return ferment::detail::density_from_gravity(sg, {w, w, a});
                                                       }); },
                   [](double sg, double w, double a) {
                       ferment::detail::density_from_gravity(sg, {w, w, a});
                   }>(m, "density_from_gravity", "Density at the sample temperature from the specific gravity against water at a temperature [kg/m3].",
                      std::array{gravity_argument, water, air}, "Density [kg/m3].", icumsa_sps4::from.citation);
    def_documented<[](double rho) { return or_nan([&] { return density_in_air(rho * kilogram_per_cubic_metre).value(); }); },
                   [](double rho) { density_in_air(rho * kilogram_per_cubic_metre); }>(
        m, "density_in_air", "Density as weighed in air of 1.2 kg/m3 with weights of 8000 kg/m3 [kg/m3].", std::array{density_argument},
        "Apparent density [kg/m3].", air_buoyancy.citation);
    def_documented<[](double rho) { return or_nan([&] { return density_in_vacuum(rho * kilogram_per_cubic_metre).value(); }); },
                   [](double rho) { density_in_vacuum(rho * kilogram_per_cubic_metre); }>(
        m, "density_in_vacuum", "True density from density as weighed in air: the exact inverse of density_in_air [kg/m3].",
        std::array{Argument{"density", "Apparent density [kg/m3]."}}, "True density [kg/m3].", air_buoyancy.citation);
}

void bind_spirit(py::module_& m) {
    def_wide<[](double p, double t) { return oiml_r22::density(p / percent, t); }, [](double p, double t) { spirit_density(p * percent_mass, degrees(t)); }>(
        m, "spirit_density", "Density of a mixture of ethanol and water [kg/m3].", std::array{abw_argument, temperature_spirit}, "Density [kg/m3].",
        oiml_r22::from.citation);
    def_documented<[](double q, double t) { return oiml_r22::density(volume_at_20c::to_abw(q / percent), t); },
                   [](double q, double t) { spirit_density(q * percent_vol, degrees(t)); }>(
        m, "spirit_density_from_abv", "Density of a spirit given in % vol [kg/m3]: what a litre of it weighs at a temperature.",
        std::array{abv_argument, temperature_spirit}, "Density [kg/m3].", oiml_r22::from.citation);
    def_inverse<oiml_r22::by_density, as_it_is, in_percent, [](double rho, double t) { abw_from_density(rho * kilogram_per_cubic_metre, degrees(t)); }>(
        m, "abw_from_density", "Ethanol by mass of a spirit from its density: the exact inverse of spirit_density [% mass].",
        std::array{density_argument, temperature_spirit}, "Ethanol [% mass].", oiml_r22::from.citation);
    def_inverse<oiml_r22::by_density, as_it_is, [](double p) { return percent * volume_at_20c::from_abw(p); },
                [](double rho, double t) { abv_from_density(rho * kilogram_per_cubic_metre, degrees(t)); }>(
        m, "abv_from_density", "Strength of a spirit from its density at any temperature [% vol at 20 degC].", std::array{density_argument, temperature_spirit},
        "Strength [% vol at 20 degC].", oiml_r22::from.citation);
    def_wide<[](double p) { return percent * volume_at_20c::from_abw(p / percent); }, [](double p) { abv_from_abw(p * percent_mass); }>(
        m, "abv_from_abw", "Strength by volume at 20 degC of a spirit from ethanol by mass [% vol].", std::array{abw_argument}, "Strength [% vol at 20 degC].",
        oiml_r22::from.citation);
    def_inverse<volume_at_20c::by_volume, as_fraction, in_percent, [](double q) { abw_from_abv(q * percent_vol); }>(
        m, "abw_from_abv", "Ethanol by mass of a spirit from its strength by volume at 20 degC: the exact inverse of abv_from_abw [% mass].",
        std::array{abv_argument}, "Ethanol [% mass].", oiml_r22::from.citation);
    constexpr Argument proof_argument{"us_proof", "US proof (60 degF), 0 to 200."};
    def_inverse<volume_at_20c::by_volume, as_fraction, [](double p) { return us_proof_of_pure_ethanol * volume_at_60f::from_abw(p); },
                [](double q) { us_proof_from_abv(q * percent_vol); }>(m, "us_proof_from_abv",
                                                                      "US proof (60 degF) from % vol at 20 degC; two definitions, 50 % vol is 99.88 proof.",
                                                                      std::array{abv_argument}, "US proof.", us_proof_definition.citation);
    def_inverse<volume_at_60f::by_volume, [](double s) { return s / us_proof_of_pure_ethanol; }, [](double p) { return percent * volume_at_20c::from_abw(p); },
                [](double s) { abv_from_us_proof(s * us_proof_degree); }>(
        m, "abv_from_us_proof", "Strength by volume at 20 degC from US proof (60 degF): the exact inverse of us_proof_from_abv [% vol].",
        std::array{proof_argument}, "Strength [% vol at 20 degC].", us_proof_definition.citation);
    def_wide<[](double p) { return us_proof_of_pure_ethanol * volume_at_60f::from_abw(p / percent); }, [](double p) { us_proof_from_abw(p * percent_mass); }>(
        m, "us_proof_from_abw", "US proof (60 degF) from ethanol by mass.", std::array{abw_argument}, "US proof.", us_proof_definition.citation);
    def_inverse<volume_at_60f::by_volume, [](double s) { return s / us_proof_of_pure_ethanol; }, in_percent,
                [](double s) { abw_from_us_proof(s * us_proof_degree); }>(
        m, "abw_from_us_proof", "Ethanol by mass from US proof (60 degF): the exact inverse of us_proof_from_abw [% mass].", std::array{proof_argument},
        "Ethanol [% mass].", us_proof_definition.citation);
}

void bind_wash(py::module_& m) {
    constexpr Argument abw_wash{"abw", "Ethanol by mass of the wash [%], 0 to 100."};
    constexpr Argument extract_wash{"extract", "Real extract by mass of the wash [%]; at most 70 % of what is not ethanol."};
    def_wide<[](double e, double x, double t) { return wash::density(e / percent, x / percent, t); },
             [](double e, double x, double t) { wash_density(e * percent_mass, x * degree_plato, degrees(t)); }>(
        m, "wash_density", "Density of a wash: water, ethanol and extract [kg/m3].", std::array{abw_wash, extract_wash, temperature_wash}, "Density [kg/m3].",
        wash::from.citation);
    def_wide<[](double e, double x) { return wash::gravity_20_20(e / percent, x / percent); },
             [](double e, double x) { wash_gravity(e * percent_mass, x * degree_plato); }>(
        m, "wash_gravity", "Specific gravity 20/20 of a wash.", std::array{abw_wash, extract_wash}, "SG 20/20.", wash::from.citation);
    def_wide<[](double e, double x) { return percent * wash::abv(e / percent, x / percent); },
             [](double e, double x) { wash_abv(e * percent_mass, x * degree_plato); }>(
        m, "wash_abv", "Strength by volume at 20 degC of a wash given by mass [% vol].", std::array{abw_wash, extract_wash}, "Strength [% vol at 20 degC].",
        wash::from.citation);
    def_documented<[](double q, double x) { return percent * wash::abw_from_abv(q / percent, x / percent); },
                   [](double q, double x) { wash_abw(q * percent_vol, x * degree_plato); }>(
        m, "wash_abw", "Ethanol by mass of a wash from its strength by volume: the exact inverse of wash_abv [% mass].", std::array{abv_argument, extract_wash},
        "Ethanol [% mass].", wash::from.citation);
    def_documented<[](double rho, double e, double t) { return percent * wash::extract_from_density(rho, e / percent, t); },
                   [](double rho, double e, double t) { wash_extract(rho * kilogram_per_cubic_metre, e * percent_mass, degrees(t)); }>(
        m, "wash_extract", "Real extract of a wash of known ethanol from its density: the exact inverse of wash_density [% mass].",
        std::array{density_argument, abw_wash, temperature_wash}, "Real extract [% mass].", wash::from.citation);
    def_documented<[](double rho, double x, double t) { return percent * wash::abw_from_density(rho, x / percent, t); },
                   [](double rho, double x, double t) { wash_abw_from_density(rho * kilogram_per_cubic_metre, x * degree_plato, degrees(t)); }>(
        m, "wash_abw_from_density", "Ethanol of a wash of known real extract from its density: the exact inverse of wash_density [% mass].",
        std::array{density_argument, extract_wash, temperature_wash}, "Ethanol [% mass].", wash::from.citation);
}

}  // namespace

void bind_liquid(py::module_& m) {
    bind_water_and_sugar(m);
    bind_gravity(m);
    bind_spirit(m);
    bind_wash(m);
    m.attr("conventional_air_density") = conventional_air_density;
    m.attr("sixty_fahrenheit_c") = sixty_fahrenheit_c;
}

}  // namespace ferment_python
