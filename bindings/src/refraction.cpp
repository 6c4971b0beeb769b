#include <ferment/liquid/refraction.hpp>

#include "edge.hpp"
#include "elementwise.hpp"
#include "module.hpp"

namespace ferment_python {

using namespace ferment;

namespace {

constexpr double usual_c = 20.0;
constexpr Argument temperature{"temperature_c", "Temperature [degC], 10 to 40.", usual_c};
constexpr Argument index_argument{"refractive_index", "Refractive index nD against air at the temperature."};
constexpr Argument abw_wash{"abw", "Ethanol by mass of the wash [%]."};
constexpr Argument extract_wash{"extract", "Real extract by mass of the wash [%]; at most 70 % of what is not ethanol."};
constexpr std::string_view index_result = "Refractive index nD.";

void bind_sugars(py::module_& m) {
    def_documented<[](double t) { return iapws_r9::index(t); }, [](double t) { water_refractive_index(degrees(t)); }>(
        m, "water_refractive_index", "Refractive index nD of water against air [1].", std::array{Argument{"temperature_c", "Temperature [degC], 0 to 60."}},
        index_result, iapws_r9::from.citation);
    def_documented<[](double w, double t) { return sucrose_refraction::index(w / percent, t); },
                   [](double w, double t) { sucrose_refractive_index(w * degree_plato, degrees(t)); }, 1>(
        m, "sucrose_refractive_index", "Refractive index nD of a sucrose solution [1].",
        std::array{Argument{"extract", "Sucrose by mass [%; degrees Brix], 0 to 70."}, temperature}, index_result, sucrose_refraction::from.citation);
    def_documented<[](double n, double t) { return percent * sucrose_refraction::extract_from_index(n, t); },
                   [](double n, double t) { brix_from_refractive_index(n, degrees(t)); }, 1>(
        m, "brix_from_refractive_index", "Degrees Brix from the refractive index: the exact inverse of sucrose_refractive_index [% mass].",
        std::array{index_argument, temperature}, "Sucrose [% mass], 0 to 70.", sucrose_refraction::from.citation);
    def_documented<[](double w) { return glucose_refraction::index(w / percent); }, [](double w) { glucose_refractive_index(w * degree_plato); }>(
        m, "glucose_refractive_index", "Refractive index nD of a glucose solution at 20 degC [1].",
        std::array{Argument{"extract", "Glucose by mass [%], 0 to 60."}}, index_result, glucose_refraction::from.citation);
    def_documented<[](double n) { return percent * glucose_refraction::extract_from_index(n); }, [](double n) { glucose_from_refractive_index(n); }>(
        m, "glucose_from_refractive_index", "Glucose from the refractive index at 20 degC: the exact inverse of glucose_refractive_index [% mass].",
        std::array{index_argument}, "Glucose [% mass], 0 to 60.", glucose_refraction::from.citation);
    constexpr Argument hydrolysate_temperature{"temperature_c", "Temperature [degC], 20 to 60.", usual_c};
    def_documented<[](double w, double t) { return hydrolysate_refraction::index(w / percent, t); },
                   [](double w, double t) { hydrolysate_refractive_index(w * degree_plato, degrees(t)); }, 1>(
        m, "hydrolysate_refractive_index", "Refractive index nD of a starch hydrolysate [1].",
        std::array{Argument{"dry_matter", "Dry matter by mass [%], 0 to 66."}, hydrolysate_temperature}, index_result, hydrolysate_refraction::from.citation);
    def_documented<[](double n, double t) { return percent * hydrolysate_refraction::extract_from_index(n, t); },
                   [](double n, double t) { hydrolysate_from_refractive_index(n, degrees(t)); }, 1>(
        m, "hydrolysate_from_refractive_index",
        "Dry matter of a starch hydrolysate from the refractive index: the exact inverse of hydrolysate_refractive_index [% mass].",
        std::array{index_argument, hydrolysate_temperature}, "Dry matter [% mass], 0 to 66.", hydrolysate_refraction::from.citation);
    def_door<[](double brix) { return value_in(hydrolysate_from_brix(brix * degree_plato), degree_plato); }>(
        m, "hydrolysate_from_brix", "Dry matter of a starch hydrolysate from what a Brix refractometer shows of it at 20 degC [% mass].",
        std::array{Argument{"brix", "Degrees Brix at 20 degC, from 0 to those of a hydrolysate of 66 %."}}, "Dry matter [% mass], about 4.5 % less than shown.",
        hydrolysate_refraction::from.citation);
}

void bind_ethanol(py::module_& m) {
    def_documented<[](double e, double t) { return spirit_refraction::index(e / percent, t); },
                   [](double e, double t) { spirit_refractive_index(e * percent_mass, degrees(t)); }, 1>(
        m, "spirit_refractive_index", "Refractive index nD of a mixture of ethanol and water [1].",
        std::array{Argument{"abw", "Ethanol by mass [%], 0 to 100."}, temperature}, index_result, spirit_refraction::from.citation);
    def_documented<[](double n, double t) { return percent * spirit_refraction::abw_from_index(n, t); },
                   [](double n, double t) { abw_from_refractive_index(n, degrees(t)); }, 1>(
        m, "abw_from_refractive_index",
        "Ethanol by mass of a spirit of at most 75 % mass from its refractive index [% mass].\n\nStronger spirits have the index of weaker ones.",
        std::array{index_argument, temperature}, "Ethanol [% mass], 0 to 75.", spirit_refraction::from.citation);
    def_documented<[](double e, double x, double t) { return wash_refraction::index(e / percent, x / percent, t); },
                   [](double e, double x, double t) { wash_refractive_index(e * percent_mass, x * degree_plato, degrees(t)); }, 1>(
        m, "wash_refractive_index", "Refractive index nD of a wash: water, ethanol and extract [1].", std::array{abw_wash, extract_wash, temperature},
        "Refractive index nD; computed from its parts, measured mixtures were not found.", wash_refraction::from.citation);
    def_documented<[](double n, double e, double t) { return percent * wash_refraction::extract_from_index(n, e / percent, t); },
                   [](double n, double e, double t) { wash_extract_from_refractive_index(n, e * percent_mass, degrees(t)); }, 1>(
        m, "wash_extract_from_refractive_index",
        "Real extract of a wash of known ethanol from its refractive index: the exact inverse of wash_refractive_index [% mass].",
        std::array{index_argument, Argument{"abw", "Ethanol by mass of the wash [%], 0 to 75."}, temperature}, "Real extract [% mass].",
        wash_refraction::from.citation);
    def_documented<[](double n, double x, double t) { return percent * wash_refraction::abw_from_index(n, x / percent, t); },
                   [](double n, double x, double t) { wash_abw_from_refractive_index(n, x * degree_plato, degrees(t)); }, 1>(
        m, "wash_abw_from_refractive_index",
        "Ethanol of a wash of known real extract from its refractive index: the exact inverse of wash_refractive_index [% mass].",
        std::array{index_argument, Argument{"extract", "Real extract by mass of the wash [%], 0 to 40."}, temperature},
        "Ethanol [% mass], up to half of what is not extract.", wash_refraction::from.citation);
}

}  // namespace

void bind_refraction(py::module_& m) {
    bind_sugars(m);
    bind_ethanol(m);
}

}  // namespace ferment_python
