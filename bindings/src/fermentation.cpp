#include <ferment/fermentation/end_point.hpp>
#include <ferment/fermentation/reading.hpp>

#include "bill.hpp"
#include "edge.hpp"
#include "estimate.hpp"
#include "module.hpp"

namespace ferment_python {

namespace py = pybind11;
using namespace ferment;

namespace {

py::tuple pair(const measured& x) {
    return py::make_tuple(percent * x.value, percent * x.standard_uncertainty);
}

}  // namespace

py::dict end_point_to(const EndPoint& e) {
    py::dict d;
    d["conversion"] = estimate(e.conversion, percent);
    d["ethanol_kg"] = estimate(e.ethanol_kg);
    d["pure_alcohol_l"] = estimate(e.pure_alcohol_l);
    d["co2_kg"] = estimate(e.co2_kg);
    d["starch_left_kg"] = estimate(e.starch_left_kg);
    d["wash_kg"] = estimate(e.wash_kg);
    d["wash_l"] = estimate(e.wash_volume_l);
    d["abw"] = estimate(e.abw, percent);
    d["abv"] = estimate(e.abv, percent);
    d["real_extract"] = estimate(e.real_extract, percent);
    d["gravity"] = estimate(e.gravity);
    return d;
}

void bind_fermentation(py::module_& m) {
    m.def("no_cook", [] {
        py::dict d;
        d["conversion"] = pair(no_cook::conversion());
        d["fermentation_efficiency"] = pair(no_cook::fermentation_efficiency());
        return d;
    });
    m.def("no_cook_published", [] {
        py::list rows;
        for (const published_share& row : no_cook::overall_rows) rows.append(py::make_tuple(std::string(row.what), percent * row.value));
        return rows;
    });
    m.def("end_point", [](const py::list& bill, const double water_kg, const py::dict& assumptions) {
        const Bill grains = bill_from(bill);
        const Assumptions assumed = assumptions_from(assumptions);
        return end_point_to([&] {
            const py::gil_scoped_release without_lock;
            return end_point(potential(grains, water_kg * kilogram, assumed));
        }());
    });
    m.def("read_wash", [](const py::list& bill, const double water_kg, const py::dict& assumptions, const double gravity, const double gravity_uncertainty) {
        const Bill grains = bill_from(bill);
        const Assumptions assumed = assumptions_from(assumptions);
        const WashReading r = [&] {
            const py::gil_scoped_release without_lock;
            return read_wash(potential(grains, water_kg * kilogram, assumed), gravity * sg_20_20, gravity_uncertainty);
        }();
        py::dict d;
        d["says"] = std::string(to_string(r.says));
        d["gravity"] = estimate(r.gravity);
        d["conversion_without_sugar"] = estimate(r.conversion_without_sugar, percent);
        d["abv_without_sugar"] = estimate(r.abv_without_sugar, percent);
        d["least_conversion"] = estimate(r.least_conversion, percent);
        d["least_abv"] = estimate(r.least_abv, percent);
        d["most_conversion"] = estimate(r.most_conversion, percent);
        d["most_abv"] = estimate(r.most_abv, percent);
        d["most_free_sugar"] = estimate(r.most_free_sugar, percent);
        d["start_gravity"] = estimate(r.start_gravity);
        d["end_gravity"] = estimate(r.end_gravity);
        d["lowest_gravity"] = estimate(r.lowest_gravity);
        d["highest_gravity"] = estimate(r.highest_gravity);
        return d;
    });
}

}  // namespace ferment_python
