// Every function of the folders instrument and strength.

#include <cmath>
#include <ferment/instrument.hpp>
#include <ferment/strength.hpp>
#include <stdexcept>
#include <string>

#include "quantities.hpp"

namespace fuzz {
namespace {

constexpr Input expansion{0.0, 1e-3};
constexpr Input og{1.0, 1.13};
constexpr Input fg{0.98, 1.06};
constexpr Input og_extract{0.10, 0.31};
constexpr Input re_extract{0.04, 0.10};
constexpr Input fg_extract{-0.02, 0.04};
constexpr Input brew_extract{0.11, 0.16}, brew_real{0.04, 0.06}, brew_apparent{0.02, 0.04};
constexpr Input doubt{0.0, 0.01};

void give(Results& out, const CorrectedReading& r) {
    out << r.gravity.value() << r.at_sample.value() << r.strength.value() << r.real_extract.value();
}
void give(Results& out, const EbulliometerReading& r) {
    out << r.strength.value() << r.by_volume.value() << r.at_pressure.value() << r.abv_per_kelvin;
}
void give(Results& out, const RefractedWash& r) {
    out << r.strength.value() << r.real_extract.value() << r.at_sample;
}
void give(Results& out, const FermentedWash& w) {
    out << w.strength.value() << w.strength_by_mass.value() << w.original_extract.value() << w.real_extract.value() << w.apparent_extract.value()
        << w.extract_consumed << w.carbon_dioxide << w.yeast << w.liquid << w.apparent_attenuation << w.real_attenuation << w.degree_of_fermentation;
}
void give(Results& out, const Uncertain& u) {
    out << u.value() << u.standard_uncertainty();
}
void give(Results& out, const FoundStrength& f) {
    give(out, f.abv);
    give(out, f.abw);
    give(out, f.real_extract);
}

Hydrometer hydrometer(const double* const x) {  // scale, calibration, glass, meniscus
    return Hydrometer(static_cast<hydrometer_scale>(static_cast<int>(x[0])), degrees(x[1]), x[2], x[3]);
}
/// A reading that lies on the scale, from a share of it.
double on_scale(const double scale, const double share) {
    constexpr double lower[] = {0.75, -8.0, 750.0}, upper[] = {1.3, 65.0, 1300.0};
    const auto i = static_cast<std::size_t>(scale < 0.0 || scale > 2.0 ? 0.0 : scale);
    return lower[i] + share * (upper[i] - lower[i]);
}
double on_refractometer(const double scale, const double share) {
    return scale == 2.0 ? 1.33 + 0.17 * share : 70.0 * share;
}
SampleWash wash_of(const double what, const double value) {
    return {what == 0.0 ? SampleWash::known::strength : SampleWash::known::extract, value};
}
hydrometer_scale known_scale(const double x) {
    if (!(x >= 0.0 && x <= 2.0)) throw InputError("scale " + format_number(x) + " is none");
    return static_cast<hydrometer_scale>(static_cast<int>(x));
}
gravity_frame frame(const double which) {
    if (which == 1.0) return frame_of<at_15_15>();
    if (which == 2.0) return frame_of<at_60f_60f>();
    if (which == 3.0) return frame_of<at_20_4>();
    return frame_of<at_20_20>();
}
fermentation_yield yield(const double ethanol) {
    return yield_from_ethanol(ethanol);
}

template <class Relation>
Entry relation_of_two(const std::string_view names) {
    return {names,
            {og_extract, fg_extract},
            [](const double* x, Results& out) { out << alcohol_by<Relation>(dissolved(x[0]), dissolved(x[1])).value(); },
            [](const double* x, Results& out) { out << Relation::abw(x[0], x[1]); }};
}
template <class Relation>
Entry relation_of_three(const std::string_view names) {
    return {names,
            {brew_extract, brew_real, brew_apparent},
            [](const double* x, Results& out) { out << alcohol_by<Relation>(dissolved(x[0]), dissolved(x[1]), dissolved(x[2])).value(); },
            [](const double* x, Results& out) { out << Relation::abw(x[0], x[1], x[2]); }};
}
template <class Relation>
Entry relation_of_real_extract(const std::string_view names) {
    return {names,
            {og_extract, fg_extract},
            [](const double* x, Results& out) { out << real_extract_by<Relation>(dissolved(x[0]), dissolved(x[1])).value(); },
            [](const double* x, Results& out) { out << Relation::real_extract(x[0], x[1]); },
            nullptr,
            {},
            derived};
}
template <class Reference>
void add_gravities(std::vector<Entry>& table) {
    table.push_back({"gravity_balance density_balance::solve real_extract real_attenuation",
                     {og, fg, {0.46, 0.51}},
                     [](const double* x, Results& out) {
                         const FermentedWash w = gravity_balance<Reference>(sg<Reference>(x[0]), sg<Reference>(x[1]), yield(x[2]));
                         give(out, w);
                         out << real_extract<Reference>(sg<Reference>(x[0]), sg<Reference>(x[1]), yield(x[2])).value()
                             << real_attenuation<Reference>(sg<Reference>(x[0]), sg<Reference>(x[1]), yield(x[2]));
                     },
                     nullptr,
                     nullptr,
                     {},
                     derived | nan_is_an_answer,
                     9});
    table.push_back(
        {"abv_from_gravity",
         {og, fg, option(7)},
         [](const double* x, Results& out) {
             out << abv_from_gravity<Reference>(sg<Reference>(x[0]), sg<Reference>(x[1]), static_cast<gravity_method>(static_cast<int>(x[2]))).value();
         },
         nullptr,
         nullptr,
         {},
         derived});
    table.push_back(
        {"original_gravity_from_abv_fg density_balance::original_gravity",
         {{0.0, 0.16}, fg, {0.46, 0.51}},
         [](const double* x, Results& out) { out << original_gravity_from_abv_fg<Reference>(by_volume(x[0]), sg<Reference>(x[1]), yield(x[2])).value(); },
         nullptr,
         [](const double* x, const double y) { return gravity_balance<Reference>(sg<Reference>(y), sg<Reference>(x[1]), yield(x[2])).strength.value(); },
         og,
         derived});
    table.push_back({"least_final_gravity density_balance::least_final_gravity",
                     {og, {0.46, 0.51}},
                     [](const double* x, Results& out) { out << least_final_gravity<Reference>(sg<Reference>(x[0]), yield(x[1])).value(); },
                     nullptr,
                     nullptr,
                     {},
                     derived});
    table.push_back({"apparent_extract apparent_extract_scale::extract apparent_extract_scale::gravity_range",
                     {{0.97, 1.36}},
                     [](const double* x, Results& out) { out << apparent_extract<Reference>(sg<Reference>(x[0])).value(); },
                     [](const double* x, Results& out) { out << apparent_extract_scale::extract(x[0], frame_of<Reference>()); },
                     [](const double*, const double y) { return apparent_extract_scale::gravity(y, frame_of<Reference>()); },
                     {-0.06, 0.7}});
    // Of water nothing can be gone: NaN.
    table.push_back({"apparent_attenuation",
                     {og, fg},
                     [](const double* x, Results& out) { out << apparent_attenuation<Reference>(sg<Reference>(x[0]), sg<Reference>(x[1])); },
                     nullptr,
                     nullptr,
                     {},
                     nan_is_an_answer | infinite_is_fine});
    table.push_back({"tabarie_gravity tabarie_sg::gravity",
                     {{0.8, 1.13}, {0.8, 1.13}},
                     [](const double* x, Results& out) { out << tabarie_gravity<Reference>(sg<Reference>(x[0]), sg<Reference>(x[1])).value(); },
                     [](const double* x, Results& out) { out << tabarie_sg::gravity(x[0], x[1]); }});
}

Uncertain reading(const double value, const double uncertainty, const char* const name) {
    return Uncertain::input(value, uncertainty, name);
}

}  // namespace

std::vector<Entry> entries() {
    std::vector<Entry> table{
        // -- alcoholometer --
        {"Alcoholometer::Alcoholometer Alcoholometer::correct alcoholometer_scale::true_strength",
         {any_share, spirit_c, expansion},
         [](const double* x, Results& out) { out << Alcoholometer(x[2]).correct(by_volume(x[0]), degrees(x[1])).value(); },
         nullptr,
         [](const double* x, const double y) { return alcoholometer_at_20c::reading(y, x[1], x[2]); },
         any_share},
        {"Alcoholometer::correct",
         {{0.0, 200.0}, spirit_c, expansion},
         [](const double* x, Results& out) { out << Alcoholometer(x[2]).correct(us_proof<>::from_value(x[0]), degrees(x[1])).value(); },
         nullptr,
         [](const double* x, const double y) { return 200.0 * alcoholometer_at_60f::reading(y / 200.0, x[1], x[2]); },
         {0.0, 200.0}},
        {"Alcoholometer::reads Alcoholometer::reads",
         {any_share, spirit_c, expansion},
         [](const double* x, Results& out) {
             const Alcoholometer glass(x[2]);
             out << glass.reads(by_volume(x[0]), degrees(x[1])).value() << glass.reads(us_proof<>::from_value(200.0 * x[0]), degrees(x[1])).value();
         }},
        {"alcoholometer_scale::reading",
         {any_share, spirit_c, expansion},
         nullptr,
         [](const double* x, Results& out) {
             out << alcoholometer_at_20c::reading(x[0], x[1], x[2]) << alcoholometer_at_60f::true_strength(x[0], x[1], x[2]);
         }},

        // -- ebulliometer --
        {"Ebulliometer::Ebulliometer Ebulliometer::strength boiling_point_strength::range boiling_point_strength::abw",
         {{70.0, 101.0}, pressure_pa, little_share, {-5.0, 5.0}, {60.0, 2000.0}},
         [](const double* x, Results& out) { give(out, Ebulliometer(x[3], x[4]).strength(degrees(x[0]), pressure<>::from_value(x[1]), dissolved(x[2]))); },
         nullptr,
         [](const double* x, const double y) { return Ebulliometer(x[3], x[4]).reads(by_mass(y), dissolved(x[2]), pressure<>::from_value(x[1])).value(); },
         {0.0, 0.6},
         derived | nan_is_an_answer,
         3},
        {"Ebulliometer::strength_against_water",
         {{60.0, 102.0}, {60.0, 102.0}, little_share},
         [](const double* x, Results& out) { give(out, Ebulliometer().strength_against_water(degrees(x[0]), degrees(x[1]), dissolved(x[2]))); },
         nullptr,
         nullptr,
         {},
         derived | nan_is_an_answer,
         3},
        {"Ebulliometer::reads",
         {any_share, little_share, pressure_pa, {-5.0, 5.0}, {60.0, 2000.0}},
         [](const double* x, Results& out) { out << Ebulliometer(x[3], x[4]).reads(by_mass(x[0]), dissolved(x[1]), pressure<>::from_value(x[2])).value(); }},

        // -- hydrometer: scale, calibration, expansion, meniscus, then reading and temperature --
        {"Hydrometer::Hydrometer Hydrometer::correct Hydrometer::scale",
         {option(3), {0.0, 40.0}, expansion, {-0.01, 0.01}, any_share, wort_c},
         [](const double* x, Results& out) {
             (void)known_scale(x[0]);
             const Hydrometer glass = hydrometer(x);
             give(out, glass.correct(on_scale(static_cast<double>(glass.scale()), x[4]), degrees(x[5]), SampleWort{}));
         },
         nullptr,
         nullptr,
         {},
         derived},
        {"Hydrometer::correct",
         {option(3), {0.0, 40.0}, expansion, {-0.01, 0.01}, any_share, spirit_c},
         [](const double* x, Results& out) {
             (void)known_scale(x[0]);
             give(out, hydrometer(x).correct(on_scale(x[0], x[4]), degrees(x[5]), SampleSpirit{}));
         },
         nullptr,
         nullptr,
         {},
         derived},
        {"Hydrometer::correct",
         {option(3), {0.0, 40.0}, expansion, {-0.01, 0.01}, any_share, wash_c, option(2), {0.0, 0.5}},
         [](const double* x, Results& out) {
             (void)known_scale(x[0]);
             give(out, hydrometer(x).correct(on_scale(x[0], x[4]), degrees(x[5]), wash_of(x[6], x[7])));
         },
         nullptr,
         nullptr,
         {},
         derived},
        {"Hydrometer::reads Hydrometer::stem",
         {option(3), {0.0, 40.0}, expansion, {-0.01, 0.01}, any_share, wash_c, little_share},
         [](const double* x, Results& out) {
             (void)known_scale(x[0]);
             out << hydrometer(x).reads(by_mass(x[4]), dissolved(x[6]), degrees(x[5]));
         },
         nullptr,
         nullptr,
         {},
         derived},

        // -- refractometer: scale, zero, then reading and temperature --
        {"Refractometer::Refractometer Refractometer::correct Refractometer::scale Refractometer::index_at_sample",
         {option(3), {-0.2, 0.2}, any_share, refraction_c, option(2)},
         [](const double* x, Results& out) {
             (void)known_scale(x[0]);
             const Refractometer prism(static_cast<refractometer_scale>(static_cast<int>(x[0])), x[1]);
             const auto r = prism.correct(on_refractometer(static_cast<double>(prism.scale()), x[2]), degrees(x[3]),
                                          x[4] == 0.0 ? refractometer_sugar::sucrose : refractometer_sugar::starch_hydrolysate);
             out << r.at_sample << r.brix.value() << r.dry_matter.value() << r.refractive_index;
         },
         nullptr,
         nullptr,
         {},
         derived},
        {"Refractometer::correct",
         {option(3), {-0.2, 0.2}, {0.0, 0.3}, refraction_c, option(2), {0.0, 0.4}},
         [](const double* x, Results& out) {
             (void)known_scale(x[0]);
             const Refractometer prism(static_cast<refractometer_scale>(static_cast<int>(x[0])), x[1]);
             give(out, prism.correct(on_refractometer(x[0], x[2]), degrees(x[3]), wash_of(x[4], x[5])));
         },
         nullptr,
         nullptr,
         {},
         derived},
        {"Refractometer::reads Refractometer::shows",
         {option(3), {-0.2, 0.2}, any_share, refraction_c, little_share},
         [](const double* x, Results& out) {
             (void)known_scale(x[0]);
             const Refractometer prism(static_cast<refractometer_scale>(static_cast<int>(x[0])), x[1]);
             out << prism.reads(by_mass(x[2]), dissolved(x[4]), degrees(x[3]));
         },
         nullptr,
         nullptr,
         {},
         derived},
        {"Refractometer::shows Refractometer::index_at_sample",
         {any_share, refraction_c, little_share, {0.0, 70.0}},
         nullptr,
         [](const double* x, Results& out) {
             for (const auto scale : {refractometer_scale::brix, refractometer_scale::compensated_brix, refractometer_scale::refractive_index}) {
                 const Refractometer prism(scale);
                 out << prism.shows(x[0], x[2], x[1]) << prism.index_at_sample(x[3], x[1]);
             }
         },
         nullptr,
         {},
         nan_may_vanish},

        // -- strength from two gravities --
        relation_of_two<balling_alcohol_from_oe_re>("alcohol_by balling_alcohol_from_oe_re::abw"),
        relation_of_two<cutaia_a>("alcohol_by alcohol_from_loss::abw"),
        relation_of_two<cutaia_b>("alcohol_by"),
        relation_of_two<doemens_a>("alcohol_by"),
        relation_of_two<doemens_b>("alcohol_by"),
        relation_of_three<cutaia_c>("alcohol_by alcohol_from_difference::abw"),
        relation_of_three<doemens_c>("alcohol_by"),
        relation_of_real_extract<cutaia_q>("real_extract_by real_extract_from_share::real_extract"),
        relation_of_real_extract<doemens_q>("real_extract_by"),
        {"real_extract_by_balling balling_real_extract::real_extract",
         {og_extract, fg_extract},
         [](const double* x, Results& out) { out << real_extract_by_balling(dissolved(x[0]), dissolved(x[1])).value(); },
         [](const double* x, Results& out) { out << balling_real_extract::real_extract(x[0], x[1]); },
         nullptr,
         {},
         derived},
        {"original_extract_by balling_original_extract::original_extract",
         {{0.0, 0.2}, og_extract},
         [](const double* x, Results& out) { out << original_extract_by<balling_original_extract>(by_mass(x[0]), dissolved(x[1])).value(); },
         [](const double* x, Results& out) { out << balling_original_extract::original_extract(x[0], x[1]); }},
        {"original_extract_by tolman_2a_plus_e::original_extract",
         {{0.0, 0.2}, og_extract},
         [](const double* x, Results& out) { out << original_extract_by<tolman_2a_plus_e>(by_mass(x[0]), dissolved(x[1])).value(); },
         [](const double* x, Results& out) { out << tolman_2a_plus_e::original_extract(x[0], x[1]); }},
        {"real_degree_of_fermentation asbc_beer6_rdf::attenuation",
         {{0.0, 0.31}, re_extract},
         [](const double* x, Results& out) { out << real_degree_of_fermentation(dissolved(x[0]), dissolved(x[1])); },
         nullptr,
         nullptr,
         {},
         nan_is_an_answer},  // of water
        {"abv_from_abw_by_convention abv_by_convention::abv",
         {any_share, {0.79, 1.13}},
         [](const double* x, Results& out) { out << abv_from_abw_by_convention(by_mass(x[0]), sg<at_20_20>(x[1])).value(); },
         [](const double* x, Results& out) { out << abv_by_convention::abv(x[0], x[1]); }},
        {"abv_from_abw_and_density abv_by_density::abv",
         {any_share, {780.0, 1350.0}},
         [](const double* x, Results& out) { out << abv_from_abw_and_density(by_mass(x[0]), kg_per_m3(x[1])).value(); },
         [](const double* x, Results& out) { out << abv_by_density::abv(x[0], x[1]); }},
        {"alcohol_free_gravity oiv_alcohol_free_density::gravity",
         {{780.0, 1350.0}, any_share},
         [](const double* x, Results& out) { out << alcohol_free_gravity(kg_per_m3(x[0]), by_volume(x[1])).value(); }},
        {"dry_extract",
         {{970.0, 1100.0}, {0.0, 0.2}},
         [](const double* x, Results& out) { out << dry_extract(kg_per_m3(x[0]), by_volume(x[1])).value(); },
         nullptr,
         nullptr,
         {},
         derived},
        // The kernel is of the difference; the door looks at the gravities, too.
        {"hmrc_226_abv",
         {og, fg},
         [](const double* x, Results& out) { out << hmrc_226_abv(sg<at_20_20>(x[0]), sg<at_20_20>(x[1])).value(); },
         nullptr,
         nullptr,
         {},
         derived},
        {"hmrc_226::abv", {og, fg}, nullptr, [](const double* x, Results& out) { out << hmrc_226::abv(x[0], x[1]); }},
        {"hmrc_226_factor hmrc_226::factor", {{0.0, 100.7}}, [](const double* x, Results& out) { out << hmrc_226_factor(x[0]); }},
        {"duty_strength hmrc_226::duty_abv", {any_share}, [](const double* x, Results& out) { out << duty_strength(by_volume(x[0])).value(); }},
        {"robirds_rossi_ethanol robirds_rossi::ethanol",
         {{0.0, 1000.0}},
         [](const double* x, Results& out) { out << robirds_rossi_ethanol(kg(x[0])).value(); },
         [](const double* x, Results& out) { out << robirds_rossi::ethanol(x[0]); },
         nullptr,
         {},
         infinite_is_fine},
        {"fermentable_extract bringhurst_attenuation::fermentable_extract",
         {og_extract, fg_extract},
         [](const double* x, Results& out) { out << fermentable_extract(dissolved(x[0]), dissolved(x[1])).value(); },
         [](const double* x, Results& out) { out << bringhurst_attenuation::fermentable_extract(x[0], x[1]); }},
        {"predicted_spirit_yield psy_factor::litres_per_tonne psy_factor::litres_per_kilogram",
         {any_share, {5.0, 7.0}},
         [](const double* x, Results& out) { out << predicted_spirit_yield(dissolved(x[0]), x[1]) << psy_factor::litres_per_kilogram(x[1]); }},
        {"hall_1995::abw hall_1995::abv adf::attenuation rdf_simple::attenuation tabarie_sg::extract_gravity",
         {{1.0, 1.06}, fg, og_extract, fg_extract},
         nullptr,
         [](const double* x, Results& out) {
             out << hall_1995::abw(x[0], x[1]) << hall_1995::abv(x[0], x[1]) << adf::attenuation(x[2], x[3]) << rdf_simple::attenuation(x[2], x[3])
                 << tabarie_sg::extract_gravity(x[0], x[1]);
         },
         nullptr,
         {},
         infinite_is_fine | nan_may_vanish},
        {"apparent_extract_scale::gravity balling_alcohol_from_oe_re::raw balling_real_extract::raw extract_ratio::operator() alcohol_from_loss::raw "
         "alcohol_from_difference::raw real_extract_from_share::raw real_extract_from_share::at hall_1995::raw_abw hall_1995::raw_abv hmrc_226::degrees "
         "density_balance::after density_balance::gravity density_balance::fall density_balance::real_extract_from_abv density_balance::original_extract "
         "density_balance::original_gravity density_balance::least_final_gravity density_balance::solve yield_from_ethanol",
         {og_extract, fg_extract, og, fg, {0.46, 0.51}, option(4)},
         nullptr,
         [](const double* x, Results& out) {
             const gravity_frame f = frame(x[5]);
             const fermentation_yield y = yield(x[4]);
             out << apparent_extract_scale::gravity(x[0], f) << balling_alcohol_from_oe_re::raw(x[0], x[1]) << balling_real_extract::raw(x[0], x[1])
                 << cutaia_a::raw(x[0], x[1]) << cutaia_c::raw(x[0], x[1], x[1]) << cutaia_q::raw(x[0], x[1]) << doemens_q::at(x[0])
                 << hall_1995::raw_abw(x[2], x[3]) << hall_1995::raw_abv(x[2], x[3]) << hmrc_226::degrees(x[2], x[3])
                 << density_balance::after(x[0], x[1], y).ethanol << density_balance::gravity(x[0], x[1], f) << density_balance::fall(x[0], x[1], y, f)
                 << density_balance::real_extract_from_abv(x[0], x[3], f) << density_balance::original_extract(x[0], x[1], y)
                 << density_balance::original_gravity(x[0], x[3], y, f) << density_balance::least_final_gravity(x[2], y, f)
                 << density_balance::solve(x[2], x[3], y, f).ethanol;
         },
         nullptr,
         {},
         unchecked},
        {"gravity_method_from_string to_string",
         {option(9)},
         [](const double* x, Results& out) {
             constexpr std::string_view names[] = {"density_balance", "balling", "cutaia_a", "cutaia_q", "doemens_a", "hall", "hmrc_226", "", "no method 7"};
             const auto i = static_cast<std::size_t>(x[0] < 0.0 || x[0] > 8.0 ? 7.0 : x[0]);
             const gravity_method method = gravity_method_from_string(names[i]);
             if (to_string(method) != names[i]) throw std::runtime_error("a method has another name");
             out << static_cast<double>(method);
         },
         nullptr,
         nullptr,
         {},
         derived | text_only},

        // -- strength without an original gravity --
        {"strength_from_hydrometer_and_refractometer",
         {{0.97, 1.1}, doubt, {1.333, 1.37}, {0.0, 0.001}},
         [](const double* x, Results& out) {
             give(out, strength_from_hydrometer_and_refractometer(reading(x[0], x[1], "gravity"), reading(x[2], x[3], "refractive index")));
         },
         nullptr,
         nullptr,
         {},
         derived | nan_is_error},
        {"strength_from_boiled_down",
         {{0.97, 1.1}, doubt, {1.0, 1.1}, doubt, option(2)},
         [](const double* x, Results& out) {
             give(out,
                  strength_from_boiled_down(reading(x[0], x[1], "before"), reading(x[2], x[3], "after"), x[4] == 0.0 ? made_up_to::volume : made_up_to::mass));
         },
         nullptr,
         nullptr,
         {},
         derived | nan_is_error},
        {"strength_by_tabarie",
         {{0.97, 1.1}, doubt, {1.0, 1.1}, doubt},
         [](const double* x, Results& out) { give(out, strength_by_tabarie(reading(x[0], x[1], "before"), reading(x[2], x[3], "after"))); },
         nullptr,
         nullptr,
         {},
         derived | nan_is_error},
        {"strength_from_carbon_dioxide_lost",
         {{0.1, 10.0}, {0.0, 0.1}, {50.0, 150.0}, {0.0, 2.0}, {5.0, 40.0}, {60.0, 110.0}, option(2), {0.97, 1.1}, doubt},
         [](const double* x, Results& out) {
             GasLoss loss;
             loss.lost_kg = reading(x[0], x[1], "lost");
             loss.wash_l = reading(x[2], x[3], "wash");
             loss.temperature_c = Uncertain(x[4]);
             loss.pressure_kpa = Uncertain(x[5]);
             loss.airlock = x[6] == 0.0;
             give(out, strength_from_carbon_dioxide_lost(loss, reading(x[7], x[8], "gravity")));
         },
         nullptr,
         nullptr,
         {},
         derived | nan_is_error},
        {"strength_from_boiling_point",
         {{60.0, 101.0}, {0.0, 0.1}, {20.0, 110.0}, {0.0, 0.1}, {0.97, 1.1}, doubt},
         [](const double* x, Results& out) {
             give(out, strength_from_boiling_point(reading(x[0], x[1], "boiling point"), reading(x[2], x[3], "pressure"), reading(x[4], x[5], "gravity")));
         },
         nullptr,
         nullptr,
         {},
         derived | nan_is_error,
         Results::most,
         true},
        {"strength_from_distilled_sample",
         {{0.0, 0.3}, {0.0, 0.01}, {50.0, 150.0}, {0.0, 1.0}, {50.0, 150.0}, {0.97, 1.1}, doubt, {0.5, 1.0}, {0.0, 0.1}},
         [](const double* x, Results& out) {
             give(out, strength_from_distilled_sample(reading(x[0], x[1], "distillate"), reading(x[2], x[3], "volume"), Uncertain(x[4]),
                                                      reading(x[5], x[6], "gravity"), {x[7], x[8]}));
         },
         nullptr,
         nullptr,
         {},
         derived | nan_is_error},
        {"combine",
         {{0.02, 0.12}, {0.0, 0.01}, {0.02, 0.12}, {0.0, 0.01}, {0.02, 0.12}, {0.0, 0.01}, option(4)},
         [](const double* x, Results& out) {
             std::vector<FoundStrength> all;
             constexpr const char* names[] = {"one", "two", "three"};
             for (std::size_t i = 0; static_cast<double>(i) < x[6] && i < 3; ++i) {
                 FoundStrength f;
                 f.route = names[i];
                 f.abv = reading(x[2 * i], x[2 * i + 1], names[i]);
                 all.push_back(f);
             }
             const CombinedStrength c = combine(all);
             give(out, c.abv);
             out << c.chi_square << c.chance;
             for (const Agreement& a : c.agreements) out << a.weight << a.deviation;
         },
         nullptr,
         nullptr,
         {},
         derived | text_only | nan_may_vanish | infinite_is_fine},
    };
    add_gravities<at_20_20>(table);
    add_gravities<at_15_15>(table);
    add_gravities<at_60f_60f>(table);
    add_gravities<at_20_4>(table);
    return table;
}

}  // namespace fuzz
