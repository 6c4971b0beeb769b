// Every function of the folder liquid.

#include <array>
#include <cmath>
#include <ferment/liquid.hpp>

#include "quantities.hpp"

namespace fuzz {
namespace {

food_components components(const double* const x) {
    return {x[0], x[1], x[2], x[3], x[4]};
}

void give(Results& out, const num::value_and_slope<double>& y) {
    out << y.value << y.slope;
}
void give(Results& out, const vle::activities<double>& a) {
    out << a.one.value << a.one.by_z << a.one.by_t << a.two.value << a.two.by_z << a.two.by_t;
}
void give(Results& out, const wash_vapour::bubble<double>& b) {
    out << b.boiling_c << b.vapour << b.relative_volatility << b.k_ethanol << b.k_water;
}
void give(Results& out, const BubblePoint& b) {
    out << b.temperature.value() << b.vapour.value() << b.relative_volatility << b.k_ethanol << b.k_water;
}

/// NaN where there is next to nothing in the water: the density has a step of 0.002 kg/m3 at zero of both (whose water it is), in which its inverse is
/// right to 1e-6 of ethanol or extract only.
double density_but_of_water(const double e, const double x, const double t) {
    constexpr double next_to_nothing = 1e-5;
    return e + x < next_to_nothing ? std::nan("") : wash::density(e, x, t);
}

template <class Reference>
void add_gravities(std::vector<Entry>& table) {
    static constexpr gravity_frame frame = frame_of<Reference>();
    table.push_back({"gravity_from_extract wort_gravity::from_extract",
                     {sugar_share},
                     [](const double* x, Results& out) { out << gravity_from_extract<Reference>(dissolved(x[0])).value(); },
                     [](const double* x, Results& out) { out << wort_gravity::from_extract(x[0], frame); }});
    table.push_back({"extract_from_gravity wort_gravity::extract wort_gravity::range",
                     {{0.99, 1.4}},
                     [](const double* x, Results& out) { out << extract_from_gravity<Reference>(sg<Reference>(x[0])).value(); },
                     [](const double* x, Results& out) { out << wort_gravity::extract(x[0], frame); },
                     [](const double*, const double y) { return wort_gravity::from_extract(y, frame); },
                     sugar_share});
    table.push_back({"sg_from_density wort_gravity::from_density",
                     {{500.0, 2000.0}},
                     [](const double* x, Results& out) { out << sg_from_density<Reference>(kg_per_m3(x[0])).value(); },
                     nullptr,
                     [](const double*, const double y) { return density_from_sg<Reference>(sg<Reference>(y)).value(); },
                     {0.51, 1.99}});
    table.push_back({"density_from_sg wort_gravity::density",
                     {{0.5, 2.0}},
                     [](const double* x, Results& out) { out << density_from_sg<Reference>(sg<Reference>(x[0])).value(); },
                     nullptr,
                     [](const double*, const double y) { return wort_gravity::from_density(y, frame); },
                     {500.0, 2000.0}});
}

}  // namespace

std::vector<Entry> entries() {
    std::vector<Entry> table{
        // -- water, sugar, wort --
        {"water_density iapws_sr6::density",
         {{0.0, 100.0}},
         [](const double* x, Results& out) { out << water_density(degrees(x[0])).value(); },
         [](const double* x, Results& out) { out << iapws_sr6::density(x[0]); }},
        {"sucrose_density icumsa_sps4::density",
         {sugar_share, wort_c},
         [](const double* x, Results& out) { out << sucrose_density(dissolved(x[0]), degrees(x[1])).value(); },
         [](const double* x, Results& out) { out << icumsa_sps4::density(x[0], x[1]); }},
        {"extract_from_density icumsa_sps4::extract_from_density",
         {any_density, wort_c},
         [](const double* x, Results& out) { out << extract_from_density(kg_per_m3(x[0]), degrees(x[1])).value(); },
         [](const double* x, Results& out) { out << icumsa_sps4::extract_from_density(x[0], x[1]); },
         [](const double* x, const double y) { return icumsa_sps4::density(y, x[1]); },
         sugar_share},
        {"icumsa_sps4::water icumsa_sps4::density_per_extract icumsa_sps4::density_and_slope",
         {sugar_share, wort_c},
         nullptr,
         [](const double* x, Results& out) {
             out << icumsa_sps4::water(x[1]) << icumsa_sps4::density_per_extract(x[0], x[1]);
             give(out, icumsa_sps4::density_and_slope(x[0], x[1]));
         },
         nullptr,
         {},
         unchecked},
        {"glucose_density crc_glucose::density",
         {{0.0, 0.6}},
         [](const double* x, Results& out) { out << glucose_density(dissolved(x[0])).value(); },
         [](const double* x, Results& out) { out << crc_glucose::density(x[0]); }},
        {"glucose_from_density crc_glucose::extract_from_density",
         {any_density},
         [](const double* x, Results& out) { out << glucose_from_density(kg_per_m3(x[0])).value(); },
         [](const double* x, Results& out) { out << crc_glucose::extract_from_density(x[0]); },
         [](const double*, const double y) { return crc_glucose::density(y); },
         {0.0, 0.6}},
        {"extract_per_litre wort_gravity::grams_per_litre",
         {sugar_share, wort_c},
         [](const double* x, Results& out) { out << extract_per_litre(dissolved(x[0]), degrees(x[1])).value(); },
         [](const double* x, Results& out) { out << wort_gravity::grams_per_litre(x[0], x[1]); }},
        {"extract_from_per_litre wort_gravity::extract_from_grams_per_litre",
         {{0.0, 950.0}, wort_c},
         [](const double* x, Results& out) { out << extract_from_per_litre(kg_per_m3(x[0]), degrees(x[1])).value(); },
         [](const double* x, Results& out) { out << wort_gravity::extract_from_grams_per_litre(x[0], x[1]); },
         [](const double* x, const double y) { return wort_gravity::grams_per_litre(y, x[1]); },
         sugar_share},
        {"plato_from_sg",
         {{0.99, 1.4}},
         [](const double* x, Results& out) { out << plato_from_sg(sg<at_20_20>(x[0])).value(); },
         nullptr,
         [](const double*, const double y) { return sg_from_plato(dissolved(y)).value(); },
         sugar_share},
        {"sg_from_plato", {sugar_share}, [](const double* x, Results& out) { out << sg_from_plato(dissolved(x[0])).value(); }},
        {"points_from_sg",
         {{0.9, 1.2}},
         [](const double* x, Results& out) { out << points_from_sg(sg<at_20_20>(x[0])); },
         nullptr,
         nullptr,
         {},
         infinite_is_fine},
        {"sg_from_points",
         {{-100.0, 200.0}},
         [](const double* x, Results& out) { out << sg_from_points(x[0]).value(); },
         nullptr,
         nullptr,
         {},
         infinite_is_fine},
        {"density_in_air", {{500.0, 2000.0}}, [](const double* x, Results& out) { out << density_in_air(kg_per_m3(x[0])).value(); }},
        {"density_in_vacuum",
         {{500.0, 2000.0}},
         [](const double* x, Results& out) { out << density_in_vacuum(kg_per_m3(x[0])).value(); },
         nullptr,
         [](const double*, const double y) { return density_in_air(kg_per_m3(y)).value(); },
         {501.0, 1999.0}},
        {"frame_of gravity_from_extract extract_from_gravity sg_from_density density_from_sg density_in_air density_in_vacuum",
         {sugar_share, {0.0, 2.0}},
         [](const double* x, Results& out) {
             const gravity<at_20_20> apparent = gravity_from_extract<at_20_20>(dissolved(x[0]), x[1]);
             const density<> rho = density_from_sg<at_20_20>(apparent, x[1]);
             out << apparent.value() << extract_from_gravity<at_20_20>(apparent, x[1]).value() << rho.value() << sg_from_density<at_20_20>(rho, x[1]).value()
                 << density_in_vacuum(density_in_air(rho, x[1]), x[1]).value();
         },
         nullptr,
         nullptr,
         {},
         derived},

        // -- spirit --
        {"spirit_density oiml_r22::density oiml_r22::valid oiml_r22::least_liquid_abw",
         {any_share, spirit_c},
         [](const double* x, Results& out) { out << spirit_density(by_mass(x[0]), degrees(x[1])).value(); },
         [](const double* x, Results& out) { out << oiml_r22::density(x[0], x[1]); }},
        {"abw_from_density oiml_r22::abw_from_density",
         {any_density, spirit_c},
         [](const double* x, Results& out) { out << abw_from_density(kg_per_m3(x[0]), degrees(x[1])).value(); },
         [](const double* x, Results& out) { out << oiml_r22::abw_from_density(x[0], x[1]); },
         [](const double* x, const double y) { return oiml_r22::density(y, x[1]); },
         any_share},
        {"oiml_r22::raw_density oiml_r22::density_slope oiml_r22::least_liquid_abw oiml_r22::at_temperature strength_by_volume::density "
         "strength_by_volume::density_slope strength_by_volume::first_guess",
         {any_share, spirit_c},
         nullptr,
         [](const double* x, Results& out) {
             out << oiml_r22::raw_density(x[0], x[1]) << oiml_r22::density_slope(x[0], x[1]) << oiml_r22::least_liquid_abw(x[1])
                 << oiml_r22::at_temperature(x[1])[0] << volume_at_20c::density(x[0]) << volume_at_60f::density(x[0]) << volume_at_20c::density_slope(x[0])
                 << volume_at_20c::first_guess(x[0]);
         },
         nullptr,
         {},
         unchecked},
        {"abv_from_abw strength_by_volume::from_abw",
         {any_share},
         [](const double* x, Results& out) { out << abv_from_abw(by_mass(x[0])).value(); },
         [](const double* x, Results& out) { out << volume_at_20c::from_abw(x[0]); }},
        {"abw_from_abv strength_by_volume::to_abw",
         {any_share},
         [](const double* x, Results& out) { out << abw_from_abv(by_volume(x[0])).value(); },
         [](const double* x, Results& out) { out << volume_at_20c::to_abw(x[0]); },
         [](const double*, const double y) { return volume_at_20c::from_abw(y); },
         any_share},
        {"abv_from_density",
         {any_density, spirit_c},
         [](const double* x, Results& out) { out << abv_from_density(kg_per_m3(x[0]), degrees(x[1])).value(); },
         nullptr,
         [](const double* x, const double y) { return spirit_density(by_volume(y), degrees(x[1])).value(); },
         any_share},
        {"spirit_density",
         {any_share, spirit_c},
         [](const double* x, Results& out) { out << spirit_density(by_volume(x[0]), degrees(x[1])).value(); },
         nullptr,
         nullptr,
         {},
         derived},
        {"us_proof_from_abw", {any_share}, [](const double* x, Results& out) { out << us_proof_from_abw(by_mass(x[0])).value(); }},
        {"abw_from_us_proof",
         {{0.0, 200.0}},
         [](const double* x, Results& out) { out << abw_from_us_proof(us_proof<>::from_value(x[0])).value(); },
         nullptr,
         [](const double*, const double y) { return us_proof_from_abw(by_mass(y)).value(); },
         any_share},
        {"us_proof_from_abv", {any_share}, [](const double* x, Results& out) { out << us_proof_from_abv(by_volume(x[0])).value(); }},
        {"abv_from_us_proof",
         {{0.0, 200.0}},
         [](const double* x, Results& out) { out << abv_from_us_proof(us_proof<>::from_value(x[0])).value(); },
         nullptr,
         [](const double*, const double y) { return us_proof_from_abv(by_volume(y)).value(); },
         any_share},

        // -- wash --
        {"wash_density wash::density wash::valid",
         {any_share, little_share, wash_c},
         [](const double* x, Results& out) { out << wash_density(by_mass(x[0]), dissolved(x[1]), degrees(x[2])).value(); },
         [](const double* x, Results& out) { out << wash::density(x[0], x[1], x[2]); }},
        {"wash_gravity wash::gravity wash::gravity_20_20",
         {any_share, little_share},
         [](const double* x, Results& out) { out << wash_gravity(by_mass(x[0]), dissolved(x[1])).value(); },
         [](const double* x, Results& out) { out << wash::gravity_20_20(x[0], x[1]); }},
        {"wash_abv wash::abv",
         {any_share, little_share},
         [](const double* x, Results& out) { out << wash_abv(by_mass(x[0]), dissolved(x[1])).value(); },
         [](const double* x, Results& out) { out << wash::abv(x[0], x[1]); }},
        {"wash_abw wash::abw_from_abv wash::strongest",
         {any_share, sugar_share},
         [](const double* x, Results& out) { out << wash_abw(by_volume(x[0]), dissolved(x[1])).value(); },
         [](const double* x, Results& out) { out << wash::abw_from_abv(x[0], x[1]); },
         [](const double* x, const double y) { return wash::abv(y, x[1]); },
         any_share},
        {"wash_extract wash::extract_from_density",
         {any_density, any_share, wash_c},
         [](const double* x, Results& out) { out << wash_extract(kg_per_m3(x[0]), by_mass(x[1]), degrees(x[2])).value(); },
         [](const double* x, Results& out) { out << wash::extract_from_density(x[0], x[1], x[2]); },
         [](const double* x, const double y) { return density_but_of_water(x[1], y, x[2]); },
         little_share},
        {"wash_abw_from_density wash::abw_from_density",
         {any_density, sugar_share, wash_c},
         [](const double* x, Results& out) { out << wash_abw_from_density(kg_per_m3(x[0]), dissolved(x[1]), degrees(x[2])).value(); },
         [](const double* x, Results& out) { out << wash::abw_from_density(x[0], x[1], x[2]); },
         [](const double* x, const double y) { return density_but_of_water(y, x[1], x[2]); },
         any_share},
        {"wash::sucrose_share wash::water_specific_volume wash::without_ethanol wash::specific_volume wash::with_slope wash::strongest",
         {any_share, sugar_share, wash_c},
         nullptr,
         [](const double* x, Results& out) {
             out << wash::sucrose_share(x[0], x[1]) << wash::water_specific_volume(x[0], x[1], x[2]) << wash::without_ethanol(x[0], x[1])
                 << wash::specific_volume(x[0], x[1], x[2]) << wash::strongest(x[1]);
             give(out, wash::with_slope([](const double y) { return y * y; }, x[0]));
         },
         nullptr,
         {},
         unchecked},

        // -- refraction --
        {"water_refractive_index iapws_r9::index",
         {{0.0, 60.0}},
         [](const double* x, Results& out) { out << water_refractive_index(degrees(x[0])); },
         [](const double* x, Results& out) { out << iapws_r9::index(x[0]); }},
        {"sucrose_refractive_index sucrose_refraction::index",
         {sugar_share, refraction_c},
         [](const double* x, Results& out) { out << sucrose_refractive_index(dissolved(x[0]), degrees(x[1])); },
         [](const double* x, Results& out) { out << sucrose_refraction::index(x[0], x[1]); }},
        {"brix_from_refractive_index sucrose_refraction::extract_from_index",
         {any_index, refraction_c},
         [](const double* x, Results& out) { out << brix_from_refractive_index(x[0], degrees(x[1])).value(); },
         [](const double* x, Results& out) { out << sucrose_refraction::extract_from_index(x[0], x[1]); },
         [](const double* x, const double y) { return sucrose_refraction::index(y, x[1]); },
         sugar_share},
        {"glucose_refractive_index glucose_refraction::index",
         {{0.0, 0.6}},
         [](const double* x, Results& out) { out << glucose_refractive_index(dissolved(x[0])); },
         [](const double* x, Results& out) { out << glucose_refraction::index(x[0]); }},
        {"glucose_from_refractive_index glucose_refraction::extract_from_index",
         {any_index},
         [](const double* x, Results& out) { out << glucose_from_refractive_index(x[0]).value(); },
         [](const double* x, Results& out) { out << glucose_refraction::extract_from_index(x[0]); },
         [](const double*, const double y) { return glucose_refraction::index(y); },
         {0.0, 0.6}},
        {"hydrolysate_refractive_index hydrolysate_refraction::index",
         {{0.0, 0.66}, {20.0, 60.0}},
         [](const double* x, Results& out) { out << hydrolysate_refractive_index(dissolved(x[0]), degrees(x[1])); },
         [](const double* x, Results& out) { out << hydrolysate_refraction::index(x[0], x[1]); }},
        {"hydrolysate_from_refractive_index hydrolysate_refraction::extract_from_index",
         {any_index, {20.0, 60.0}},
         [](const double* x, Results& out) { out << hydrolysate_from_refractive_index(x[0], degrees(x[1])).value(); },
         [](const double* x, Results& out) { out << hydrolysate_refraction::extract_from_index(x[0], x[1]); },
         [](const double* x, const double y) { return hydrolysate_refraction::index(y, x[1]); },
         {0.0, 0.66}},
        {"hydrolysate_from_brix hydrolysate_refraction::from_sucrose_scale",
         {{0.0, 0.69}},
         [](const double* x, Results& out) { out << hydrolysate_from_brix(dissolved(x[0])).value(); },
         [](const double* x, Results& out) { out << hydrolysate_refraction::from_sucrose_scale(x[0]); }},
        {"spirit_refractive_index spirit_refraction::index",
         {any_share, refraction_c},
         [](const double* x, Results& out) { out << spirit_refractive_index(by_mass(x[0]), degrees(x[1])); },
         [](const double* x, Results& out) { out << spirit_refraction::index(x[0], x[1]); }},
        {"abw_from_refractive_index spirit_refraction::abw_from_index",
         {any_index, refraction_c},
         [](const double* x, Results& out) { out << abw_from_refractive_index(x[0], degrees(x[1])).value(); },
         [](const double* x, Results& out) { out << spirit_refraction::abw_from_index(x[0], x[1]); },
         [](const double* x, const double y) { return spirit_refraction::index(y, x[1]); },
         {0.0, 0.75}},
        {"wash_refractive_index wash_refraction::index",
         {any_share, little_share, refraction_c},
         [](const double* x, Results& out) { out << wash_refractive_index(by_mass(x[0]), dissolved(x[1]), degrees(x[2])); },
         [](const double* x, Results& out) { out << wash_refraction::index(x[0], x[1], x[2]); }},
        {"wash_extract_from_refractive_index wash_refraction::extract_from_index",
         {any_index, {0.0, 0.75}, refraction_c},
         [](const double* x, Results& out) { out << wash_extract_from_refractive_index(x[0], by_mass(x[1]), degrees(x[2])).value(); },
         [](const double* x, Results& out) { out << wash_refraction::extract_from_index(x[0], x[1], x[2]); },
         [](const double* x, const double y) { return wash_refraction::index(x[1], y, x[2]); },
         {0.0, 0.5}},
        {"wash_abw_from_refractive_index wash_refraction::abw_from_index",
         {any_index, {0.0, 0.4}, refraction_c},
         [](const double* x, Results& out) { out << wash_abw_from_refractive_index(x[0], dissolved(x[1]), degrees(x[2])).value(); },
         [](const double* x, Results& out) { out << wash_refraction::abw_from_index(x[0], x[1], x[2]); },
         [](const double* x, const double y) { return wash_refraction::index(y, x[1], x[2]); },
         {0.0, 0.5}},
        {"iapws_r9::in_vacuum iapws_r9::air iapws_r9::against_air sucrose_refraction::solute sucrose_refraction::index_and_slope "
         "glucose_refraction::index_and_slope hydrolysate_refraction::index_and_slope spirit_refraction::solute spirit_refraction::index_and_slope "
         "wash_refraction::raw_index",
         {any_share, little_share, refraction_c, any_density},
         nullptr,
         [](const double* x, Results& out) {
             out << iapws_r9::in_vacuum(x[3], x[2]) << iapws_r9::in_vacuum(x[3], x[2], x[0]) << iapws_r9::air(x[2]) << iapws_r9::against_air(x[2])
                 << sucrose_refraction::solute(x[0]) << spirit_refraction::solute(x[0]) << wash_refraction::raw_index(x[0], x[1], x[2]);
             give(out, sucrose_refraction::index_and_slope(x[0], x[2]));
             give(out, glucose_refraction::index_and_slope(x[0]));
             give(out, hydrolysate_refraction::index_and_slope(x[0], x[2]));
             give(out, spirit_refraction::index_and_slope(x[0], x[2]));
         },
         nullptr,
         {},
         unchecked},

        // -- heat --
        {"spirit_heat_capacity spirit_heat::heat_capacity spirit_heat::valid",
         {any_share, heat_c},
         [](const double* x, Results& out) { out << spirit_heat_capacity(by_mass(x[0]), degrees(x[1])).value(); },
         [](const double* x, Results& out) { out << spirit_heat::heat_capacity(x[0], x[1]); }},
        {"spirit_enthalpy spirit_heat::liquid_enthalpy",
         {any_share, heat_c},
         [](const double* x, Results& out) { out << spirit_enthalpy(by_mass(x[0]), degrees(x[1])).value(); },
         [](const double* x, Results& out) { out << spirit_heat::liquid_enthalpy(x[0], x[1]); }},
        {"vapour_enthalpy spirit_heat::vapour_enthalpy",
         {any_share, heat_c},
         [](const double* x, Results& out) { out << vapour_enthalpy(by_mass(x[0]), degrees(x[1])).value(); },
         [](const double* x, Results& out) { out << spirit_heat::vapour_enthalpy(x[0], x[1]); }},
        {"latent_heat spirit_heat::latent_heat",
         {any_share, heat_c},
         [](const double* x, Results& out) { out << latent_heat(by_mass(x[0]), degrees(x[1])).value(); },
         [](const double* x, Results& out) { out << spirit_heat::latent_heat(x[0], x[1]); }},
        // The kernel also takes a start above the boiling point, where the difference of the two enthalpies has a meaning too; the door does not.
        {"evaporation_heat",
         {any_share, {0.0, 80.0}, {70.0, 110.0}},
         [](const double* x, Results& out) { out << evaporation_heat(by_mass(x[0]), degrees(x[1]), degrees(x[2])).value(); }},
        {"spirit_heat::evaporation_heat spirit_heat::mixing",
         {any_share, heat_c, heat_c},
         nullptr,
         [](const double* x, Results& out) { out << spirit_heat::evaporation_heat(x[0], x[1], x[2]) << spirit_heat::mixing(x[0]); },
         nullptr,
         {},
         usual},
        {"wash_heat_capacity wash_heat::heat_capacity wash_heat::valid",
         {any_share, little_share, heat_c},
         [](const double* x, Results& out) { out << wash_heat_capacity(by_mass(x[0]), dissolved(x[1]), degrees(x[2])).value(); },
         [](const double* x, Results& out) { out << wash_heat::heat_capacity(x[0], x[1], x[2]); }},
        {"wash_heating",
         {{0.0, 1000.0}, any_share, little_share, heat_c, heat_c},
         [](const double* x, Results& out) { out << wash_heating(kg(x[0]), by_mass(x[1]), dissolved(x[2]), degrees(x[3]), degrees(x[4])).value(); },
         nullptr,
         nullptr,
         {},
         infinite_is_fine},
        {"wash_heating wash_heat::heating",
         {any_share, little_share, heat_c, heat_c},
         [](const double* x, Results& out) { out << wash_heating(kg(1.0), by_mass(x[0]), dissolved(x[1]), degrees(x[2]), degrees(x[3])).value(); },
         [](const double* x, Results& out) { out << wash_heat::heating(x[0], x[1], x[2], x[3]); }},
        {"grain_heat_capacity food_components::others choi_okos_1986_heat::of",
         {{0.0, 0.2}, {0.0, 0.2}, {0.0, 0.1}, {0.0, 0.2}, {0.0, 0.1}, heat_c},
         [](const double* x, Results& out) { out << grain_heat_capacity(components(x), degrees(x[5])).value(); },
         nullptr,
         nullptr,
         {},
         derived},
        {"grain_heating",
         {{0.0, 0.2}, {0.0, 0.2}, {0.0, 0.1}, {0.0, 0.2}, {0.0, 0.1}, heat_c, heat_c, {0.0, 1000.0}},
         [](const double* x, Results& out) { out << grain_heating(kg(x[7]), components(x), degrees(x[5]), degrees(x[6])).value(); },
         nullptr,
         nullptr,
         {},
         derived | infinite_is_fine},
        {"choi_okos_1986_heat::heat_capacity choi_okos_1986_heat::enthalpy",
         {heat_c},
         nullptr,
         [](const double* x, Results& out) {
             out << choi_okos_1986_heat::heat_capacity(choi_okos_1986_heat::fat, x[0]) << choi_okos_1986_heat::enthalpy(choi_okos_1986_heat::ash, x[0]);
         }},
        {"perry_dippr100::heat_capacity perry_dippr100::enthalpy perry_dippr106::latent_heat spirit_heat::redlich_kister num::antiderivative",
         {any_share, heat_c},
         nullptr,
         [](const double* x, Results& out) {
             out << perry_dippr100::heat_capacity(perry_dippr100::water, x[1]) << perry_dippr100::enthalpy(perry_dippr100::ethanol, x[1])
                 << perry_dippr106::latent_heat(perry_dippr106::water, x[1]) << spirit_heat::redlich_kister(spirit_heat::mixing_terms, x[0])
                 << num::antiderivative(std::array<double, 2>{x[0], x[1]})[2];
         },
         nullptr,
         {},
         unchecked},

        // -- boiling --
        {"bubble_point wash_vapour::bubble_point wash_vapour::valid",
         {any_share, little_share, pressure_pa, {60.0, 2000.0}},
         [](const double* x, Results& out) { give(out, bubble_point(by_mass(x[0]), dissolved(x[1]), pressure<>::from_value(x[2]), x[3])); },
         [](const double* x, Results& out) { give(out, wash_vapour::bubble_point(x[0], x[1], x[2], x[3])); }},
        {"wash_vapour::bubble_point wash_vapour::bubble_course::at",
         {any_share, little_share, pressure_pa},
         nullptr,
         [](const double* x, Results& out) {
             give(out, wash_vapour::bubble_point(x[0], x[1], x[2]));
             wash_vapour::bubble_course course;
             give(out, course.at(x[0], x[1], x[2], wash_vapour::extract_molar_mass));
             give(out, course.at(0.9 * x[0], x[1], x[2], wash_vapour::extract_molar_mass));
         },
         nullptr,
         {},
         usual,
         Results::most,
         false,
         [](const double* x, const char** what) {
             *what = "the course of boiling points differs from the boiling point";
             wash_vapour::bubble_course course;
             course.at(x[0], x[1], x[2], wash_vapour::extract_molar_mass);
             const double near = course.at(0.9 * x[0], x[1], x[2], wash_vapour::extract_molar_mass).boiling_c;
             const double searched = wash_vapour::bubble_point(0.9 * x[0], x[1], x[2]).boiling_c;
             constexpr double kelvin = 1e-9;
             return std::isnan(searched) ? std::isnan(near) : std::abs(near - searched) <= kelvin;
         }},
        {"bubble_point wash_vapour::bubble_point",
         {any_share, pressure_pa},
         [](const double* x, Results& out) { give(out, bubble_point(by_mass(x[0]), pressure<>::from_value(x[1]))); },
         [](const double* x, Results& out) { give(out, wash_vapour::bubble_point(x[0], x[1])); }},
        {"boiling_point",
         {any_share, pressure_pa},
         [](const double* x, Results& out) { out << boiling_point(by_mass(x[0]), pressure<>::from_value(x[1])).value(); }},
        {"vapour_strength",
         {any_share, pressure_pa},
         [](const double* x, Results& out) { out << vapour_strength(by_mass(x[0]), pressure<>::from_value(x[1])).value(); }},
        {"dew_point wash_vapour::dew_point modified_raoult::liquid_of",
         {any_share, pressure_pa},
         [](const double* x, Results& out) {
             const DewPoint d = dew_point(by_mass(x[0]), pressure<>::from_value(x[1]));
             out << d.liquid.value() << d.temperature.value();
         },
         [](const double* x, Results& out) {
             const auto d = wash_vapour::dew_point(x[0], x[1]);
             out << d.liquid << d.boiling_c;
         },
         [](const double* x, const double y) { return wash_vapour::bubble_point(y, x[1]).vapour; },
         any_share},
        {"azeotrope wash_vapour::azeotrope wash_vapour::lowest_boiling",
         {pressure_pa},
         [](const double* x, Results& out) {
             const Azeotrope a = azeotrope(pressure<>::from_value(x[0]));
             out << a.temperature.value() << a.strength.value();
         },
         [](const double* x, Results& out) {
             const auto a = wash_vapour::azeotrope(x[0]);
             out << a.boiling_c << a.abw;
         }},
        {"ethanol_vapour_pressure dippr101::vapour_pressure",
         {{-114.1, 240.85}},
         [](const double* x, Results& out) { out << ethanol_vapour_pressure(degrees(x[0])).value(); },
         [](const double* x, Results& out) { out << dippr101_ethanol::vapour_pressure(x[0]); }},
        {"water_vapour_pressure dippr101::vapour_pressure",
         {{0.01, 373.946}},
         [](const double* x, Results& out) { out << water_vapour_pressure(degrees(x[0])).value(); },
         [](const double* x, Results& out) { out << dippr101_water::vapour_pressure(x[0]); }},
        {"mole_fraction_from_abw wash_vapour::mole_fraction",
         {any_share},
         [](const double* x, Results& out) { out << mole_fraction_from_abw(by_mass(x[0])).value(); },
         [](const double* x, Results& out) { out << wash_vapour::mole_fraction(x[0]); }},
        {"abw_from_mole_fraction wash_vapour::mass_fraction",
         {any_share},
         [](const double* x, Results& out) { out << abw_from_mole_fraction(mole_fraction<>::from_value(x[0])).value(); },
         [](const double* x, Results& out) { out << wash_vapour::mass_fraction(x[0]); },
         [](const double*, const double y) { return wash_vapour::mole_fraction(y); },
         any_share},
        {"pressure_at_altitude standard_atmosphere::pressure",
         {{-5000.0, 11000.0}},
         [](const double* x, Results& out) { out << pressure_at_altitude(length<>::from_value(x[0])).value(); },
         [](const double* x, Results& out) { out << standard_atmosphere::pressure(x[0]); }},
        {"altitude_of_pressure standard_atmosphere::altitude standard_atmosphere::pressures",
         {{22.7e3, 177e3}},
         [](const double* x, Results& out) { out << altitude_of_pressure(pressure<>::from_value(x[0])).value(); },
         [](const double* x, Results& out) { out << standard_atmosphere::altitude(x[0]); },
         [](const double*, const double y) { return standard_atmosphere::pressure(y); },
         {-5000.0, 11000.0}},
        {"station_pressure standard_atmosphere::station_pressure",
         {{85e3, 110e3}, {-5000.0, 11000.0}},
         [](const double* x, Results& out) { out << station_pressure(pressure<>::from_value(x[0]), length<>::from_value(x[1])).value(); },
         [](const double* x, Results& out) { out << standard_atmosphere::station_pressure(x[0], x[1]); }},
        {"dippr101::ln_pressure nrtl::ln_gamma nrtl_ethanol_water::ln_gamma modified_raoult::at modified_raoult::boiling modified_raoult::boiling_near "
         "modified_raoult::liquid_of modified_raoult::state::kelvin_by_z modified_raoult::state::relative_volatility modified_raoult::state::k_one "
         "modified_raoult::state::k_two wash_vapour::raw_mole_fraction wash_vapour::raw_mass_fraction wash_vapour::solutes wash_vapour::raise "
         "wash_vapour::boiling_c wash_vapour::lowest_boiling wash_vapour::as_bubble wash_vapour::in_solvent standard_atmosphere::raw_pressure "
         "standard_atmosphere::raw_altitude vle::settled vle::near_root",
         {any_share, pressure_pa, {300.0, 400.0}, {0.0, 0.01}},
         nullptr,
         [](const double* x, Results& out) {
             give(out, dippr101_ethanol::ln_pressure(x[2]));
             give(out, nrtl::ln_gamma<double>(x[0], {x[3], x[0]}, {x[0], x[3]}, nrtl_ethanol_water::alpha));
             give(out, nrtl_ethanol_water::ln_gamma(x[0], x[2]));
             using binary = wash_vapour::binary;
             const auto here = binary::at(x[0], x[2]);
             give(out, wash_vapour::as_bubble(x[2], here, 1.0));
             out << here.kelvin_by_z() << here.relative_volatility() << here.k_one() << here.k_two();
             out << binary::boiling(x[0], x[1]) << binary::boiling_near(x[0], x[1], x[2]).kelvin << binary::liquid_of(x[0], x[1]);
             out << wash_vapour::raw_mole_fraction(x[0]) << wash_vapour::raw_mass_fraction(x[0]) << wash_vapour::solutes(x[0], x[2])
                 << wash_vapour::raise(x[0], x[3]) << wash_vapour::boiling_c(x[0], x[1], x[3]) << wash_vapour::lowest_boiling(x[1], x[3])
                 << wash_vapour::in_solvent(x[0], x[3]) << standard_atmosphere::raw_pressure(x[1]) << standard_atmosphere::raw_altitude(x[1])
                 << vle::settled(x[0], vle::round_off_kelvin)
                 << vle::near_root(
                        [&](const double y) {
                            return num::value_and_slope<double>{y * y - x[0], 2.0 * y};
                        },
                        0.0, 1.0, x[3], 1e-8);
         },
         nullptr,
         {},
         unchecked},

        // -- carbon dioxide --
        {"carbon_dioxide::saturation carbon_dioxide::dissolved carbon_dioxide::litres_per_kg",
         {{0.0, 100.0}, {0.0, 1000.0}, {0.0, 45.0}},
         nullptr,
         [](const double* x, Results& out) {
             out << carbon_dioxide::saturation(x[2]) << carbon_dioxide::dissolved(x[0], x[1], x[2]) << carbon_dioxide::litres_per_kg(x[2]);
         },
         nullptr,
         {},
         unchecked},
        {"ventilation_m3_per_h", {{0.0, 5000.0}, {1000.0, 40000.0}}, [](const double* x, Results& out) { out << ventilation_m3_per_h(x[0], x[1]); }},
    };
    add_gravities<at_20_20>(table);
    add_gravities<at_15_15>(table);
    add_gravities<at_60f_60f>(table);
    add_gravities<at_20_4>(table);
    return table;
}

}  // namespace fuzz
