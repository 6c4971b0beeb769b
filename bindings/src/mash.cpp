#include <ferment/mash/grain_table.hpp>
#include <ferment/mash/potential.hpp>
#include <ferment/mash/water.hpp>

#include "bill.hpp"
#include "edge.hpp"
#include "elementwise.hpp"
#include "estimate.hpp"
#include "module.hpp"

namespace ferment_python {

namespace py = pybind11;
using namespace ferment;

namespace {

measured share_from(const py::handle& pair) {
    const auto [value, uncertainty] = pair.cast<std::pair<double, double>>();
    return {value / percent, uncertainty / percent};
}

py::tuple share_to(const measured& x) {
    return py::make_tuple(percent * x.value, percent * x.standard_uncertainty);
}

py::dict potential_of_grain(const GrainPotential& p) {
    py::dict d;
    d["name"] = p.name;
    d["mass_kg"] = p.mass_kg;
    d["extract_as_is"] = estimate(p.extract_as_is, percent);
    d["extract_dry"] = estimate(p.extract_dry, percent);
    d["litre_degrees_per_kg"] = estimate(p.litre_degrees_per_kg);
    d["points_per_pound_per_gallon"] = estimate(p.points_per_pound_per_gallon);
    d["pure_alcohol_l"] = estimate(p.pure_alcohol_l);
    d["pure_alcohol_l_per_tonne"] = estimate(p.pure_alcohol_l_per_tonne);
    d["pure_alcohol_l_per_tonne_dry"] = estimate(p.pure_alcohol_l_per_tonne_dry);
    return d;
}

py::dict yield_values(const Yield& y) {
    py::dict d;
    d["conversion"] = estimate(y.conversion, percent);
    d["fermentation_efficiency"] = estimate(y.fermentation_efficiency, percent);
    d["starch_converted_kg"] = estimate(y.starch_converted_kg);
    d["hydrolysis_water_kg"] = estimate(y.hydrolysis_water_kg);
    d["hexose_kg"] = estimate(y.hexose_kg);
    d["extract_kg"] = estimate(y.extract_kg);
    d["extract"] = estimate(y.extract, percent);
    d["original_gravity"] = estimate(y.original_gravity);
    d["glucose_gravity"] = estimate(y.glucose_gravity);
    d["ethanol_kg"] = estimate(y.ethanol_kg);
    d["pure_alcohol_l"] = estimate(y.pure_alcohol_l);
    d["co2_kg"] = estimate(y.co2_kg);
    d["by_products_kg"] = estimate(y.by_products_kg);
    d["bill"] = potential_of_grain(y.bill);
    py::list grains;
    for (const GrainPotential& g : y.grains) grains.append(potential_of_grain(g));
    d["grains"] = py::tuple(grains);
    return d;
}

}  // namespace

py::dict grain_to(const Grain& grain) {
    py::dict d;
    d["name"] = grain.name;
    d["form"] = grain.form;
    for (const ferment::detail::grain_part& part : ferment::detail::grain_parts) {
        d[py::str(std::string(part.key))] = share_to(grain.*part.member);
    }
    d["disaccharide_share"] = percent * grain.disaccharide_share;
    d["starch_method"] = grain.starch_method;
    d["source"] = grain.source;
    return d;
}

Grain grain_from(const py::dict& values) {
    Grain g;
    g.name = values["name"].cast<std::string>();
    g.form = values["form"].cast<std::string>();
    for (const ferment::detail::grain_part& part : ferment::detail::grain_parts) {
        g.*part.member = share_from(values[py::str(std::string(part.key))]);
    }
    g.disaccharide_share = values["disaccharide_share"].cast<double>() / percent;
    g.starch_method = values["starch_method"].cast<std::string>();
    g.source = values["source"].cast<std::string>();
    return g;
}

Bill bill_from(const py::list& items) {
    Bill bill;
    for (const py::handle item : items) {
        const auto [grain_values, mass_kg] = item.cast<std::pair<py::dict, double>>();
        bill.add(grain_from(grain_values), mass_kg * kilogram);
    }
    return bill;
}

Assumptions assumptions_from(const py::dict& values) {
    Assumptions a{share_from(values["conversion"]), share_from(values["fermentation_efficiency"])};
    a.soluble_share_of_rest = share_from(values["soluble_share_of_rest"]);
    return a;
}

py::dict potential_to(const Potential& p) {
    py::dict d;
    d["grain_kg"] = p.grain_kg;
    d["water_kg"] = p.water_kg;
    d["theoretical"] = yield_values(p.theoretical);
    d["expected"] = yield_values(p.expected);
    return d;
}

py::dict water_balance_to(const WaterBalance& b) {
    py::dict d;
    d["added_kg"] = estimate(b.added_kg);
    d["grain_moisture_kg"] = estimate(b.grain_moisture_kg);
    d["hydrolysis_kg"] = estimate(b.hydrolysis_kg);
    d["absorbed_kg"] = estimate(b.absorbed_kg);
    d["free_kg"] = estimate(b.free_kg);
    d["free_share"] = estimate(b.free_share, percent);
    d["displacement_l"] = estimate(b.displacement_l);
    d["mash_volume_l"] = estimate(b.mash_volume_l);
    d["vessel_volume_l"] = estimate(b.vessel_volume_l);
    return d;
}

void bind_mash(py::module_& m) {
    m.def("grain", [](const std::string& name) { return grain_to(grain(name)); });
    m.def("grain_names", &grain_names);
    m.def("validate_grain", [](const py::dict& values) { validate(grain_from(values)); });
    m.def("grain_with_analysis", [](const py::dict& values, const py::dict& stated, const bool dry, const std::string& source) {
        Analysis analysis;
        const auto part = [&stated](const char* key) { return stated.contains(key) ? std::optional<measured>(share_from(stated[key])) : std::nullopt; };
        analysis.moisture = part("moisture");
        analysis.starch = part("starch");
        analysis.sugars = part("sugars");
        analysis.protein = part("protein");
        analysis.fat = part("fat");
        analysis.fibre = part("fibre");
        analysis.ash = part("ash");
        analysis.on = dry ? basis::dry : basis::as_is;
        analysis.source = source;
        return grain_to(with_analysis(grain_from(values), analysis));
    });
    m.def("bill_mass", [](const py::list& items) {
        const Bill bill = bill_from(items);
        ferment::detail::require_grain(bill);
        return bill.total().value();
    });
    m.def("default_soluble_share_of_rest", [] { return share_to(Assumptions{}.soluble_share_of_rest); });
    m.def("potential", [](const py::list& bill, const double water_kg, const py::dict& assumptions) {
        const Bill grains = bill_from(bill);
        const Assumptions assumed = assumptions_from(assumptions);
        return potential_to([&] {
            const py::gil_scoped_release without_lock;
            return potential(grains, water_kg * kilogram, assumed);
        }());
    });
    m.def("water_balance", [](const py::list& bill, const double water_kg, const py::dict& assumptions, const std::pair<double, double>& absorption,
                              const double head_space_percent) {
        const Bill grains = bill_from(bill);
        const Assumptions assumed = assumptions_from(assumptions);
        const MashHandling handling{{absorption.first, absorption.second}, head_space_percent / percent};
        return water_balance_to([&] {
            const py::gil_scoped_release without_lock;
            return water_balance(grains, potential(grains, water_kg * kilogram, assumed), handling);
        }());
    });
    m.def("default_mash_handling", [] {
        const MashHandling h;
        return py::make_tuple(py::make_tuple(h.absorption.value, h.absorption.standard_uncertainty), percent * h.head_space_share);
    });
    def_documented<[](double w) { return litre_degrees_of_extract(w / percent); },
                   [](double w) {
                       constexpr double least = 1e-6;
                       require_inside("extract", w, "% mass", {least, percent * icumsa_sps4::extract_range.upper}, icumsa_sps4::from);
                   }>(m, "litre_degrees_of_extract", "Litre-degrees that one kg of dissolved extract gives in wort of a strength [L.deg/kg].",
                      std::array{Argument{"extract", "Extract of the wort [% mass], above 0 to 70."}}, "Litre-degrees per kg.", litre_degrees.citation);
    m.attr("points_per_litre_degree") = points_per_litre_degree;
}

}  // namespace ferment_python
