#include <array>
#include <cstddef>
#include <cstdint>
#include <ferment/still/cuts.hpp>
#include <ferment/still/jars.hpp>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "estimate.hpp"
#include "module.hpp"
#include "still.hpp"

namespace ferment_python {

namespace py = pybind11;
using namespace ferment;

namespace {

/// {"volume_l", "temperature_c", "abv", "label", "note", "volume_uncertainty", "abv_uncertainty"}, in percent.
Jar jar_from(const py::dict& values) {
    Jar jar;
    jar.volume_l = values["volume_l"].cast<double>();
    jar.temperature_c = values["temperature_c"].cast<double>();
    jar.abv = values["abv"].cast<double>() / percent;
    jar.label = cut_label_from(values["label"].cast<std::string>());
    jar.note = values["note"].cast<std::string>();
    jar.relative_volume_uncertainty = values["volume_uncertainty"].cast<double>() / percent;
    jar.abv_uncertainty = values["abv_uncertainty"].cast<double>() / percent;
    return jar;
}

std::vector<Jar> jars_from(const py::list& items) {
    std::vector<Jar> jars;
    for (const py::handle item : items) jars.push_back(jar_from(item.cast<py::dict>()));
    return jars;
}

py::dict blend_to(const CutBlend& blend) {
    py::dict d;
    d["mass_kg"] = blend.mass_kg;
    d["ethanol_kg"] = blend.ethanol_kg;
    d["volume_l"] = blend.volume_20c_l;
    d["abv"] = percent * blend.abv;
    d["pure_alcohol_l"] = estimate(blend.pure_alcohol_l);
    d["jars"] = py::tuple(py::cast(blend.jars));
    return d;
}

py::dict content_to(const JarContent& content) {
    py::dict d;
    d["mass_kg"] = content.mass_kg;
    d["ethanol_kg"] = content.ethanol_kg;
    d["volume_l"] = content.volume_20c_l;
    d["pure_alcohol_l"] = estimate(content.pure_alcohol_l);
    d["cumulative_mass_kg"] = content.cumulative_mass_kg;
    d["cumulative_volume_l"] = content.cumulative_volume_l;
    d["cumulative_alcohol_l"] = content.cumulative_alcohol_l;
    d["cumulative_abv"] = percent * content.cumulative_abv;
    return d;
}

constexpr std::array<Figure<FilledJar>, 13> filled_figures{{
    {"size_l", &FilledJar::size_l},
    {"filled_l", &FilledJar::filled_l},
    {"temperature_c", &FilledJar::temperature_c},
    {"volume_l", &FilledJar::volume_20c_l},
    {"mass_kg", &FilledJar::mass_kg},
    {"ethanol_kg", &FilledJar::ethanol_kg},
    {"abv", &FilledJar::abv, percent},
    {"abw", &FilledJar::abw, percent},
    {"alcohol_share", &FilledJar::alcohol_share, percent},
    {"from_kg", &FilledJar::from_kg},
    {"to_kg", &FilledJar::to_kg},
    {"from_abv", &FilledJar::from_abv, percent},
    {"to_abv", &FilledJar::to_abv, percent},
}};

/// {"collected_kg", "collected_abw", "distillate_abw"}: an entry for each point, percent.
ferment::detail::jar_curve jar_curve_from(const py::dict& run) {
    const auto kg = run["collected_kg"].cast<std::vector<double>>();
    const auto collected = run["collected_abw"].cast<std::vector<double>>();
    const auto distillate = run["distillate_abw"].cast<std::vector<double>>();
    if (collected.size() != kg.size() || distillate.size() != kg.size()) throw InputError("jars: the columns of the curve are not of one length");
    std::vector<ferment::detail::jar_curve_point> points;
    points.reserve(kg.size());
    for (std::size_t i = 0; i < kg.size(); ++i) points.push_back({kg[i], kg[i] * collected[i] / percent, distillate[i] / percent});
    return ferment::detail::jar_curve(std::move(points));
}

}  // namespace

void bind_still_cuts(py::module_& m) {
    m.def("validate_cut_label", [](const std::string& name) { cut_label_from(name); });
    m.def("work_out_cuts", [](const py::list& items) {
        const std::vector<Jar> jars = jars_from(items);
        const Cuts cuts = [&] {
            const py::gil_scoped_release without_lock;
            return work_out_cuts(jars);
        }();
        py::list contents;
        for (const JarContent& content : cuts.jars) contents.append(content_to(content));
        py::list fractions;
        for (const CutFraction& fraction : cuts.fractions) {
            py::dict d;
            d["label"] = to_string(fraction.label);
            d["content"] = blend_to(fraction.content);
            d["alcohol_share"] = percent * fraction.alcohol_share;
            fractions.append(d);
        }
        py::dict d;
        d["jars"] = contents;
        d["fractions"] = fractions;
        d["total"] = blend_to(cuts.total);
        d["never_back"] = py::tuple(py::cast(cuts.never_back));
        return d;
    });
    m.def("blend_jars", [](const py::list& items, const std::vector<std::int64_t>& which) {
        const std::vector<Jar> jars = jars_from(items);
        std::vector<std::size_t> chosen;
        for (const std::int64_t k : which) {
            if (k < 0) throw InputError("blend of jars: jar number " + std::to_string(k) + " must be zero or more; they are counted from 0");
            chosen.push_back(static_cast<std::size_t>(k));
        }
        return blend_to(blend_jars(jars, chosen));
    });
    m.def("recycle_jars", [](const py::list& items, const std::vector<std::string>& labels) {
        const std::vector<Jar> jars = jars_from(items);
        std::vector<cut_label> wanted;
        wanted.reserve(labels.size());
        for (const std::string& label : labels) wanted.push_back(cut_label_from(label));
        return blend_to(recycle_jars(jars, wanted));
    });
    m.def("fill_jars", [](const py::dict& run, const std::vector<double>& sizes, const double each, const double t) {
        const FilledJars filled = ferment::detail::fill(jar_curve_from(run), sizes, each, t);
        py::list jars;
        for (const FilledJar& jar : filled.jars) jars.append(figures_to(jar, filled_figures));
        py::dict d;
        d["jars"] = jars;
        d["rest"] = figures_to(filled.rest, filled_figures);
        d["unused"] = filled.unused;
        d["mass_kg"] = filled.mass_kg;
        d["ethanol_kg"] = filled.ethanol_kg;
        return d;
    });
    py::tuple labels(cut_labels.size());
    for (std::size_t i = 0; i < cut_labels.size(); ++i) labels[i] = py::cast(to_string(cut_labels[i]));
    m.attr("cut_labels") = labels;
    const Jar usual;
    m.attr("jar_uncertainty") = py::make_tuple(percent * usual.relative_volume_uncertainty, percent * usual.abv_uncertainty);
}

}  // namespace ferment_python
