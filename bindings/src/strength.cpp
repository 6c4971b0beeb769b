#include <cctype>
#include <ferment/strength/gravity.hpp>

#include "edge.hpp"
#include "elementwise.hpp"
#include "module.hpp"

namespace ferment_python {

using namespace ferment;

namespace {

// Two gravities, the yield and the frame travel as numbers; ferment/strength.py gives them names.
constexpr std::array<const char*, 7> balance_arguments{"original_gravity", "final_gravity", "ethanol_yield", "co2_yield", "yeast_yield", "sample_c", "water_c"};

gravity_frame frame(const double sample_c, const double water_c) {
    return {sample_c, water_c, 0.0};
}

using Block = std::array<double, static_cast<std::size_t>(largest_block)>;

/// Solves a block whose elements share yield and frame by the array form of the library. False where they do not, or the yield cannot be.
bool solved_together(const double* const* in, Block& original, Block& consumed, Block& apparent, const std::ptrdiff_t n) {
    for (std::size_t k = 2; k < balance_arguments.size(); ++k) {
        for (std::ptrdiff_t i = 0; i < n; ++i) {
            if (in[k][i] != in[k][0]) return false;
        }
    }
    const fermentation_yield yield{in[2][0], in[3][0], in[4][0]};
    try {
        ferment::detail::require_yield(yield);
    } catch (const Error&) {
        return false;
    }
    const gravity_frame at = frame(in[5][0], in[6][0]);
    in_widest([&] {
        density_balance::solve_array(in[0], in[1], yield, at, original.data(), consumed.data(), n);
        Block rho;
        for (std::ptrdiff_t i = 0; i < n; ++i) rho[static_cast<std::size_t>(i)] = wort_gravity::density(in[1][i], at);
        const std::array<const double*, 2> density_and_temperature{rho.data(), in[5]};
        num::solve_array<icumsa_sps4::by_density<apparent_extract_scale::least_percent>>(density_and_temperature.data(), apparent.data(), n);
    });
    return true;
}

template <class Part>
struct BalanceFormula {
    static void elements(const double* const* in, double* out, const std::ptrdiff_t n) {
        Block original;
        Block consumed;
        Block apparent;
        if (!solved_together(in, original, consumed, apparent, n)) {
            for (std::ptrdiff_t i = 0; i < n; ++i) out[i] = value(in[0][i], in[1][i], in[2][i], in[3][i], in[4][i], in[5][i], in[6][i]);
            return;
        }
        const fermentation_yield yield{in[2][0], in[3][0], in[4][0]};
        in_widest([&] {
            for (std::ptrdiff_t i = 0; i < n; ++i) {
                const auto k = static_cast<std::size_t>(i);
                const double refused = 0.0 * consumed[k];  // NaN where it cannot be, and then all of it
                out[i] =
                    Part::of(ferment::detail::described(density_balance::after(original[k], consumed[k], yield), original[k] + refused, apparent[k] + refused));
            }
        });
    }
    static void check(const double og, const double fg, const double e, const double c, const double y, const double s, const double w) {
        ferment::detail::require_yield({e, c, y});
        if (std::isnan(Part::of(ferment::detail::gravity_balance(og, fg, {e, c, y}, frame(s, w))))) {
            throw RangeError("original gravity " + format_number(og) + " must be above 1: water has no extract of which a share could be gone");
        }
    }
    static double value(const double og, const double fg, const double e, const double c, const double y, const double s, const double w) {
        return or_nan([&] {
            ferment::detail::require_yield({e, c, y});
            return Part::of(ferment::detail::gravity_balance(og, fg, {e, c, y}, frame(s, w)));
        });
    }
};

#define FERMENT_BALANCE_PART(name, expression)                          \
    struct name {                                                       \
        static double of(const FermentedWash& r) { return expression; } \
    }
FERMENT_BALANCE_PART(Abv, value_in(r.strength, percent_vol));
FERMENT_BALANCE_PART(Abw, value_in(r.strength_by_mass, percent_mass));
FERMENT_BALANCE_PART(OriginalExtract, value_in(r.original_extract, degree_plato));
FERMENT_BALANCE_PART(RealExtract, value_in(r.real_extract, degree_plato));
FERMENT_BALANCE_PART(ApparentExtract, value_in(r.apparent_extract, degree_plato));
FERMENT_BALANCE_PART(ApparentAttenuation, percent* r.apparent_attenuation);
FERMENT_BALANCE_PART(RealAttenuation, percent* r.real_attenuation);
FERMENT_BALANCE_PART(DegreeOfFermentation, percent* r.degree_of_fermentation);
FERMENT_BALANCE_PART(ExtractConsumed, r.extract_consumed);
FERMENT_BALANCE_PART(CarbonDioxide, r.carbon_dioxide);
FERMENT_BALANCE_PART(Yeast, r.yeast);
FERMENT_BALANCE_PART(Liquid, r.liquid);
#undef FERMENT_BALANCE_PART

struct ByMethod {
    static void elements(const double* const* in, double* out, const std::ptrdiff_t n) {
        constexpr auto balance = static_cast<double>(gravity_method::density_balance);
        bool by_balance = true;
        for (std::ptrdiff_t i = 0; i < n; ++i) by_balance &= in[2][i] == balance;
        if (!by_balance) {
            for (std::ptrdiff_t i = 0; i < n; ++i) out[i] = value(in[0][i], in[1][i], in[2][i], in[3][i], in[4][i]);
            return;
        }
        // NOLINTNEXTLINE(cppcoreguidelines-pro-type-member-init): filled before it is read
        std::array<Block, 3> yield;
        yield[0].fill(default_yield.ethanol);
        yield[1].fill(default_yield.carbon_dioxide);
        yield[2].fill(default_yield.yeast);
        const std::array<const double*, balance_arguments.size()> given{in[0], in[1], yield[0].data(), yield[1].data(), yield[2].data(), in[3], in[4]};
        BalanceFormula<Abv>::elements(given.data(), out, n);
    }
    static double door(const double og, const double fg, const double method, const double s, const double w) {
        return percent * ferment::detail::abv_from_gravity(og, fg, static_cast<gravity_method>(static_cast<int>(method)), frame(s, w));
    }
    static double value(const double og, const double fg, const double method, const double s, const double w) {
        return or_nan([&] { return door(og, fg, method, s, w); });
    }
    static void check(const double og, const double fg, const double method, const double s, const double w) { door(og, fg, method, s, w); }
};

struct OriginalGravity {
    static double door(const double abv, const double fg, const double e, const double c, const double y, const double s, const double w) {
        return ferment::detail::original_gravity_from_abv_fg(abv / percent, fg, {e, c, y}, frame(s, w));
    }
    static double value(const double abv, const double fg, const double e, const double c, const double y, const double s, const double w) {
        return or_nan([&] { return door(abv, fg, e, c, y, s, w); });
    }
    static void check(const double abv, const double fg, const double e, const double c, const double y, const double s, const double w) {
        door(abv, fg, e, c, y, s, w);
    }
};

struct LeastFinalGravity {
    static double door(const double og, const double e, const double c, const double y, const double s, const double w) {
        return ferment::detail::least_final_gravity(og, {e, c, y}, frame(s, w));
    }
    static double value(const double og, const double e, const double c, const double y, const double s, const double w) {
        return or_nan([&] { return door(og, e, c, y, s, w); });
    }
    static void check(const double og, const double e, const double c, const double y, const double s, const double w) { door(og, e, c, y, s, w); }
};

struct ApparentExtractOf {
    static double door(const double sg, const double s, const double w) { return percent * ferment::detail::apparent_extract(sg, frame(s, w)); }
    static double value(const double sg, const double s, const double w) {
        return or_nan([&] { return door(sg, s, w); });
    }
    static void check(const double sg, const double s, const double w) { door(sg, s, w); }
};

constexpr Argument original_extract_argument{"original_extract", "Extract of the wort [% mass]."};
constexpr Argument apparent_extract_argument{"apparent_extract", "Extract that the hydrometer shows in the wash [% mass]; negative below water."};
constexpr Argument real_extract_argument{"real_extract", "Extract dissolved in the wash [% mass]."};

/// Defines a published relation under its literature name.
template <auto Of, std::size_t N>
void published(py::module_& m, const source& from, const std::array<Argument, N>& arguments, const std::string_view unit) {
    // The unit in brackets is the kernel's; what Python gets stands under Returns.
    std::string quantity(from.quantity.substr(0, from.quantity.find(" [")));
    quantity[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(quantity[0])));
    def_elementwise<DoorFormula<Of>>(m, keep_text(std::string(from.name)), arguments,
                                     document(quantity + ".\n\nRange: " + std::string(from.range), arguments, unit, from.citation));
}

template <class Relation>
double alcohol(const double first, const double second) {
    return percent * ferment::detail::alcohol_by<Relation>(first / percent, second / percent);
}
template <class Relation>
double alcohol_of_three(const double oe, const double re, const double ae) {
    return percent * ferment::detail::alcohol_by<Relation>(oe / percent, re / percent, ae / percent);
}
template <class Relation>
double real_extract_of(const double oe, const double ae) {
    return value_in(real_extract_by<Relation>(oe * degree_plato, ae * degree_plato), degree_plato);
}

}  // namespace

void bind_strength(py::module_& m) {
    def_elementwise<BalanceFormula<Abv>>(m, "balance_abv", balance_arguments, "Strength [% vol at 20 degC].");
    def_elementwise<BalanceFormula<Abw>>(m, "balance_abw", balance_arguments, "Ethanol [% mass].");
    def_elementwise<BalanceFormula<OriginalExtract>>(m, "balance_original_extract", balance_arguments, "Extract of the wort [% mass].");
    def_elementwise<BalanceFormula<RealExtract>>(m, "balance_real_extract", balance_arguments, "Real extract [% mass].");
    def_elementwise<BalanceFormula<ApparentExtract>>(m, "balance_apparent_extract", balance_arguments, "Apparent extract [% mass].");
    def_elementwise<BalanceFormula<ApparentAttenuation>>(m, "balance_apparent_attenuation", balance_arguments, "Apparent attenuation [%].");
    def_elementwise<BalanceFormula<RealAttenuation>>(m, "balance_real_attenuation", balance_arguments, "Real attenuation [%].");
    def_elementwise<BalanceFormula<DegreeOfFermentation>>(m, "balance_degree_of_fermentation", balance_arguments, "Real degree of fermentation [%].");
    def_elementwise<BalanceFormula<ExtractConsumed>>(m, "balance_extract_consumed", balance_arguments, "Extract consumed [kg/kg wort].");
    def_elementwise<BalanceFormula<CarbonDioxide>>(m, "balance_co2", balance_arguments, "Carbon dioxide [kg/kg wort].");
    def_elementwise<BalanceFormula<Yeast>>(m, "balance_yeast", balance_arguments, "Yeast and by-products [kg/kg wort].");
    def_elementwise<BalanceFormula<Liquid>>(m, "balance_liquid", balance_arguments, "Wash [kg/kg wort].");
    def_elementwise<ByMethod>(m, "abv_by_method", std::array{"original_gravity", "final_gravity", "method", "sample_c", "water_c"},
                              "Strength by a published method [% vol at 20 degC].");
    def_elementwise<OriginalGravity>(m, "original_gravity",
                                     std::array{"abv", "final_gravity", "ethanol_yield", "co2_yield", "yeast_yield", "sample_c", "water_c"},
                                     "Original gravity from strength and final gravity.");
    def_elementwise<LeastFinalGravity>(m, "least_final_gravity",
                                       std::array{"original_gravity", "ethanol_yield", "co2_yield", "yeast_yield", "sample_c", "water_c"},
                                       "The lowest gravity a wort can ferment to.");
    def_elementwise<ApparentExtractOf>(m, "apparent_extract", std::array{"gravity", "sample_c", "water_c"}, "Apparent extract [% mass].");

    const std::array original_apparent{original_extract_argument, apparent_extract_argument};
    const std::array original_real{original_extract_argument, real_extract_argument};
    const std::array all_three{original_extract_argument, real_extract_argument, apparent_extract_argument};
    constexpr std::string_view by_mass = "Ethanol [% mass].";
    published<alcohol<balling_alcohol_from_oe_re>>(m, balling_alcohol_from_oe_re::from, original_real, by_mass);
    published<alcohol<cutaia_a>>(m, cutaia_a::from, original_apparent, by_mass);
    published<alcohol<cutaia_b>>(m, cutaia_b::from, original_real, by_mass);
    published<alcohol_of_three<cutaia_c>>(m, cutaia_c::from, all_three, by_mass);
    published<alcohol<doemens_a>>(m, doemens_a::from, original_apparent, by_mass);
    published<alcohol<doemens_b>>(m, doemens_b::from, original_real, by_mass);
    published<alcohol_of_three<doemens_c>>(m, doemens_c::from, all_three, by_mass);
    published<real_extract_of<cutaia_q>>(m, cutaia_q::from, original_apparent, "Real extract [% mass].");
    published<real_extract_of<doemens_q>>(m, doemens_q::from, original_apparent, "Real extract [% mass].");
    published<[](double oe, double ae) { return value_in(real_extract_by_balling(oe * degree_plato, ae * degree_plato), degree_plato); }>(
        m, balling_real_extract::from, original_apparent, "Real extract [% mass].");
    published<[](double oe, double re) { return percent * real_degree_of_fermentation(oe * degree_plato, re * degree_plato); }>(
        m, asbc_beer6_rdf::from, original_real, "Real degree of fermentation [%].");
    constexpr Argument abw_argument{"abw", "Ethanol by mass [%], 0 to 20."};
    published<[](double a, double re) { return value_in(original_extract_by<>(a * percent_mass, re * degree_plato), degree_plato); }>(
        m, balling_original_extract::from, std::array{abw_argument, real_extract_argument}, "Original extract [% mass].");
    published<[](double a, double re) { return value_in(original_extract_by<tolman_2a_plus_e>(a * percent_mass, re * degree_plato), degree_plato); }>(
        m, tolman_2a_plus_e::from, std::array{abw_argument, real_extract_argument}, "Original extract [% mass].");
    constexpr Argument gravity_argument{"gravity", "SG 20/20 of the wash, 0.79 to 1.13."};
    published<[](double a, double sg) { return value_in(abv_from_abw_by_convention(a * percent_mass, sg * sg_20_20), percent_vol); }>(
        m, abv_by_convention::from, std::array{Argument{"abw", "Ethanol by mass [%], 0 to 100."}, gravity_argument}, "Strength [% vol].");
    published<[](double rho, double q) { return alcohol_free_gravity(rho * kilogram_per_cubic_metre, q * percent_vol).value(); }>(
        m, oiv_alcohol_free_density::from, std::array{Argument{"density", "Density at 20 degC [kg/m3]."}, Argument{"abv", "Strength [% vol]."}}, "SG 20/20.");
    published<[](double a, double x) { return tabarie_gravity(a * sg_20_20, x * sg_20_20).value(); }>(
        m, tabarie_sg::from,
        std::array{Argument{"alcohol_gravity", "Gravity of water and the ethanol alone, 0.8 to 1.13."},
                   Argument{"extract_gravity", "Gravity of water and the extract alone, 0.8 to 1.13."}},
        "Gravity of the wash.");
    published<[](double oe, double ae) { return value_in(fermentable_extract(oe * degree_plato, ae * degree_plato), degree_plato); }>(
        m, bringhurst_attenuation::from, original_apparent, "Fermentable extract [% mass].");
    def_documented<[](double rho, double q) { return or_nan([&] { return dry_extract(rho * kilogram_per_cubic_metre, q * percent_vol).value(); }); },
                   [](double rho, double q) { dry_extract(rho * kilogram_per_cubic_metre, q * percent_vol); }>(
        m, "dry_extract", "Dry extract of a wash or wine from density at 20 degC and strength [g/L].",
        std::array{Argument{"density", "Density at 20 degC [kg/m3]."}, Argument{"abv", "Strength [% vol at 20 degC]."}}, "Dry extract [g/L].",
        wash::from.citation);
    def_documented<[](double q) { return or_nan([&] { return value_in(duty_strength(q * percent_vol), percent_vol); }); },
                   [](double q) { duty_strength(q * percent_vol); }>(m, "duty_abv", "Strength as it counts for duty: cut down to 0.1 % vol.",
                                                                     std::array{Argument{"abv", "Strength [% vol], 0 to 100."}}, "Strength [% vol].",
                                                                     hmrc_226::from.citation);
    m.def("gravity_methods", [] {
        py::list names;
        for (const gravity_method_info& info : gravity_methods) names.append(std::string(info.name));
        return names;
    });
    m.def("gravity_method_index", [](const std::string& name) { return static_cast<int>(gravity_method_from_string(name)); });
    const auto yield_tuple = [](const fermentation_yield& y) { return py::make_tuple(y.ethanol, y.carbon_dioxide, y.yeast); };
    m.attr("yields") = py::dict(py::arg("bringhurst_1996") = yield_tuple(bringhurst_1996), py::arg("balling_1865") = yield_tuple(balling_1865));
}

}  // namespace ferment_python
