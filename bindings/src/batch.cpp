#include <array>
#include <cstdint>
#include <deque>
#include <ferment/batch/ledger.hpp>
#include <ferment/batch/plan.hpp>
#include <limits>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "batch.hpp"
#include "bill.hpp"
#include "edge.hpp"
#include "estimate.hpp"
#include "module.hpp"
#include "proofing.hpp"
#include "still.hpp"

namespace ferment_python {

namespace py = pybind11;
using namespace ferment;

namespace {

using Pair = std::pair<double, double>;  // value, standard uncertainty

constexpr std::array<Figure<SpiritDuty>, 10> spirit_duty_figures{{
    {"heat_up_kwh", &SpiritDuty::heat_up_kwh},
    {"heat_up_h", &SpiritDuty::heat_up_h},
    {"run_kwh", &SpiritDuty::run_kwh},
    {"run_h", &SpiritDuty::run_h},
    {"energy_kwh", &SpiritDuty::energy_kwh},
    {"total_h", &SpiritDuty::total_h},
    {"condenser_kwh", &SpiritDuty::condenser_kwh},
    {"condenser_peak_kw", &SpiritDuty::condenser_peak_kw},
    {"water_l", &SpiritDuty::water_l},
    {"water_peak_l_per_h", &SpiritDuty::water_peak_l_per_h},
}};

constexpr std::array<Figure<PlanTotals>, 7> total_figures{{
    {"energy_kwh", &PlanTotals::energy_kwh},
    {"condenser_kwh", &PlanTotals::condenser_kwh},
    {"water_l", &PlanTotals::water_l},
    {"running_h", &PlanTotals::running_h},
    {"turnaround_h", &PlanTotals::turnaround_h},
    {"total_h", &PlanTotals::total_h},
    {"energy_kwh_per_pure_alcohol_l", &PlanTotals::energy_kwh_per_pure_alcohol_l},
}};

constexpr std::array<Figure<PlanFraction>, 5> fraction_figures{{
    {"from_l", &PlanFraction::from_l},
    {"to_l", &PlanFraction::to_l},
    {"from_abv", &PlanFraction::from_abv, percent},
    {"to_abv", &PlanFraction::to_abv, percent},
    {"alcohol_share", &PlanFraction::alcohol_share, percent},
}};

measured pair_from(const py::handle& pair, const double scale = 1.0) {
    const auto [value, uncertainty] = pair.cast<Pair>();
    return {value / scale, uncertainty / scale};
}

py::tuple pair_to(const measured& x, const double scale = 1.0) {
    return py::make_tuple(scale * x.value, scale * x.standard_uncertainty);
}

int whole(const char* what, const std::int64_t count) {
    if (count != static_cast<int>(count)) throw RangeError(std::string(what) + " " + std::to_string(count) + " cannot be counted");
    return static_cast<int>(count);
}

struct CutEndName {
    std::string_view name;
    CutEnd::by by;
    double scale;
};

constexpr std::array<CutEndName, 3> cut_end_names{{
    {"alcohol_share", CutEnd::by::alcohol_share, percent},
    {"collected_l", CutEnd::by::collected_l, 1.0},
    {"distillate_abv", CutEnd::by::distillate_abv, percent},
}};

/// (name, value)
CutEnd cut_end_from(const py::handle& values) {
    const auto [name, value] = values.cast<std::pair<std::string, double>>();
    for (const CutEndName& known : cut_end_names) {
        if (known.name == name) return {known.by, value / known.scale};
    }
    throw InputError("cut " + in_quotes(name) + " is not known; known are alcohol_share, collected_l, distillate_abv");
}

recycle_into recycle_into_from(const std::string& name) {
    if (name == "wash") return recycle_into::wash;
    if (name == "low_wines") return recycle_into::low_wines;
    throw InputError("recycled into " + in_quotes(name) + " is not known; known are wash, low_wines");
}

SpiritStill spirit_from(const py::dict& values) {
    SpiritStill s;
    if (!values["still"].is_none()) s.still = setup_from(values["still"].cast<py::dict>());
    s.plates = whole("plates", values["plates"].cast<std::int64_t>());
    s.packed_height_m = values["packed_height_m"].cast<double>();
    s.hetp_m = values["hetp_m"].cast<double>();
    s.hold_up_kg = values["hold_up_kg"].cast<double>();
    s.equilibration_h = values["equilibration_h"].cast<double>();
    s.take_off = take_off_from(values["take_off"].cast<py::dict>());
    s.stop = column_stop_from(values["stop"].cast<py::dict>());
    s.strongest_charge_abv = values["strongest_charge_abv"].cast<double>() / percent;
    s.dilution_water_c = values["dilution_water_c"].cast<double>();
    s.start_c = values["start_c"].cast<double>();
    return s;
}

CutPlan cuts_from(const py::dict& values, std::deque<std::string>& text) {
    CutPlan c;
    c.fore_shots_end = cut_end_from(values["fore_shots_end"]);
    c.heads_end = cut_end_from(values["heads_end"]);
    c.hearts_end = cut_end_from(values["hearts_end"]);
    c.by_congeners = values["by_congeners"].cast<bool>();
    c.rules = boundary_rules_from(values["rules"].cast<py::list>(), text);
    for (const auto& [name, level] : values["congener_levels"].cast<std::vector<std::pair<std::string, double>>>()) {
        c.congener_levels.push_back({congener(name), level});
    }
    return c;
}

py::object maybe(const std::optional<Uncertain>& x, const double scale = 1.0) {
    return x ? py::object(estimate(*x, scale)) : py::object(py::none());
}

py::list rows_to(const std::vector<LedgerRow>& rows) {
    py::list list;
    for (const LedgerRow& row : rows) {
        py::dict d;
        d["line"] = to_string(row.line);
        d["place"] = to_string(row.place);
        d["name"] = row.name;
        d["litres"] = estimate(row.litres);
        d["share"] = estimate(row.share, percent);
        d["basis"] = to_string(row.basis);
        d["expected"] = maybe(row.expected);
        d["note"] = row.note;
        list.append(d);
    }
    return list;
}

py::dict yield_to(const LedgerYield& y) {
    py::dict d;
    d["place"] = to_string(y.place);
    d["basis"] = to_string(y.basis);
    d["litres"] = estimate(y.litres);
    d["litres_per_tonne"] = estimate(y.litres_per_tonne);
    d["litres_per_tonne_dry"] = estimate(y.litres_per_tonne_dry);
    d["share_of_theoretical"] = estimate(y.share_of_theoretical, percent);
    d["of_expected"] = maybe(y.of_expected, percent);
    return d;
}

py::list flows_to(const std::vector<PlanFlow>& flows) {
    py::list list;
    for (const PlanFlow& flow : flows) {
        py::dict d;
        d["what"] = flow.what;
        d["mass_kg"] = flow.mass_kg;
        d["ethanol_kg"] = flow.ethanol_kg;
        list.append(d);
    }
    return list;
}

py::dict predicted_to(const Predicted& p) {
    py::dict d;
    d["wash_pure_alcohol_l"] = estimate(p.wash_pure_alcohol_l);
    d["low_wines_l"] = estimate(p.low_wines_l);
    d["low_wines_pure_alcohol_l"] = estimate(p.low_wines_pure_alcohol_l);
    d["hearts_l"] = estimate(p.hearts_l);
    d["hearts_pure_alcohol_l"] = estimate(p.hearts_pure_alcohol_l);
    d["bottled_l"] = estimate(p.bottled_l);
    d["bottles"] = estimate(p.bottles);
    return d;
}

py::dict plan_to(const Plan& p) {
    const BottlingPlan& bottling = p.request.bottling;
    py::dict d;
    d["potential"] = potential_to(p.potential);
    d["end_point"] = end_point_to(p.end_point);
    d["water"] = water_balance_to(p.water);
    d["strained"] = liquid_to(p.strained);
    d["kept_by_grain"] = liquid_to(p.in_grain);
    d["recycled"] = liquid_to(p.recycled);
    d["stripping_charges"] = charges_to(p.stripping_charges);
    d["stripping"] = stripping_to(p.stripping);
    d["stripping_duty"] = duty_to(p.stripping_duty);
    d["stripping_bill"] = still_bill_to(p.stripping_bill);
    d["low_wines"] = liquid_to(p.low_wines);
    d["spirit_water_kg"] = p.spirit_water_kg;
    d["spirit_water_l"] = p.spirit_water_l;
    d["spirit_charges"] = charges_to(p.spirit_charges);
    d["plates"] = p.plates;
    d["spirit_run"] = column_run_to(p.spirit_run);
    d["spirit_duty"] = figures_to(p.spirit_duty, spirit_duty_figures);
    d["windows"] = p.windows ? py::object(windows_to(*p.windows)) : py::object(py::none());
    py::list fractions;
    for (const PlanFraction& fraction : p.fractions) {
        py::dict f = figures_to(fraction, fraction_figures);
        f["label"] = to_string(fraction.label);
        f["content"] = liquid_to(fraction.content);
        fractions.append(f);
    }
    d["fractions"] = fractions;
    d["left"] = liquid_to(p.left);
    d["dilution"] = dilution_to(p.dilution, bottling.fill_c, bottling.water_c);
    d["bottling"] = bottling_to(p.bottling);
    py::dict totals = figures_to(p.totals, total_figures);
    totals["charges"] = p.totals.charges;
    d["totals"] = totals;
    d["predicted"] = predicted_to(p.predicted);
    d["inflow"] = flows_to(p.in);
    d["outflow"] = flows_to(p.out);
    d["balance_error"] = p.balance_error();
    d["ledger_rows"] = rows_to(p.ledger().rows());
    d["sheet"] = p.sheet();
    return d;
}

Plan planned(const Asked& asked) {
    const py::gil_scoped_release without_lock;
    return plan(asked.request);
}

constexpr const char* book_name = "ferment.batch.Ledger";

/// A ledger that Python holds and cannot look into.
py::capsule book_to(Ledger book) {
    auto owned = std::make_unique<Ledger>(std::move(book));
    py::capsule held(owned.get(), book_name, [](PyObject* object) { delete static_cast<Ledger*>(PyCapsule_GetPointer(object, book_name)); });
    static_cast<void>(owned.release());  // the capsule owns it now
    return held;
}

Ledger& book_from(const py::capsule& held) {
    return *held.get_pointer<Ledger>();
}

Uncertain litres_from(const Pair& litres, const std::string& what) {
    return Uncertain::input(litres.first, litres.second, what);
}

py::dict finding_to(const LedgerFinding& finding) {
    py::dict d;
    d["conflict"] = to_string(finding.conflict);
    d["before"] = to_string(finding.before);
    d["after"] = to_string(finding.after);
    d["excess_l"] = estimate(finding.excess_l);
    d["standard_uncertainties"] = finding.standard_uncertainties;
    d["message"] = finding.message;
    return d;
}

std::string name_of(const batch_place place) {
    return std::string(ferment::detail::facts_of(place).name);
}

void bind_ledger(py::module_& m) {
    m.def("ledger", [](const Pair& pure_alcohol_l, const double grain_kg, const Pair& dry_grain_kg) {
        return book_to(
            Ledger(LedgerStart{litres_from(pure_alcohol_l, "potential of the grain"), grain_kg, litres_from(dry_grain_kg, "dry matter of the grain")}));
    });
    m.def("ledger_of_potential", [](const py::list& bill, const double water_kg, const py::dict& assumptions, const Pair& absorption) {
        const Bill grains = bill_from(bill);
        const Potential can = potential(grains, water_kg * kilogram, assumptions_from(assumptions));
        MashHandling handling;
        handling.absorption = {absorption.first, absorption.second};
        return book_to(Ledger(can, water_balance(grains, can, handling)));
    });
    m.def("ledger_of_plan", [](const py::dict& request) { return book_to(planned(asked_from(request)).ledger()); });
    m.def("ledger_expect", [](const py::capsule& held, const std::string& place, const Pair& litres, const std::string& note) {
        const batch_place at = batch_place_from(place);
        book_from(held).expect(at, litres_from(litres, "expected " + name_of(at)), note);
    });
    m.def("ledger_measure", [](const py::capsule& held, const std::string& place, const Pair& litres, const std::string& note) {
        book_from(held).measure(batch_place_from(place), measured{litres.first, litres.second}, note);
    });
    m.def("ledger_measure_liquid", [](const py::capsule& held, const std::string& place, const Pair& volume_l, const Pair& abv, const double temperature_c,
                                      const double extract_percent, const std::string& note) {
        const LiquidReading reading{{volume_l.first, volume_l.second}, {abv.first / percent, abv.second / percent}, temperature_c, extract_percent / percent};
        book_from(held).measure(batch_place_from(place), reading, note);
    });
    m.def("ledger_forget", [](const py::capsule& held, const std::string& place) { book_from(held).forget(batch_place_from(place)); });
    m.def("ledger_bring_in", [](const py::capsule& held, const std::string& stage, const Pair& litres, const std::string& note) {
        const batch_place at = batch_place_from(stage);
        book_from(held).bring_in(at, litres_from(litres, "came in before " + name_of(at)), note);
    });
    m.def("ledger_take_out", [](const py::capsule& held, const std::string& place, const Pair& litres, const std::string& note) {
        const batch_place at = batch_place_from(place);
        book_from(held).take_out(at, litres_from(litres, "taken out of " + name_of(at)), note);
    });
    m.def("ledger_content", [](const py::capsule& held, const std::string& place) { return maybe(book_from(held).content(batch_place_from(place))); });
    m.def("ledger_is_measured", [](const py::capsule& held, const std::string& place) { return book_from(held).is_measured(batch_place_from(place)); });
    m.def("ledger_rows", [](const py::capsule& held) { return rows_to(book_from(held).rows()); });
    m.def("ledger_ends", [](const py::capsule& held) { return rows_to(book_from(held).ends()); });
    m.def("ledger_losses", [](const py::capsule& held) { return rows_to(book_from(held).losses()); });
    m.def("ledger_balance", [](const py::capsule& held) {
        const LedgerBalance b = book_from(held).balance();
        py::dict d;
        d["start_l"] = estimate(b.start_l);
        d["came_in_l"] = estimate(b.came_in_l);
        d["ended_l"] = estimate(b.ended_l);
        d["difference_l"] = estimate(b.difference_l);
        return d;
    });
    m.def("ledger_findings", [](const py::capsule& held, const double coverage) {
        py::list list;
        for (const LedgerFinding& finding : book_from(held).findings(coverage)) list.append(finding_to(finding));
        return list;
    });
    m.def("ledger_yield_at", [](const py::capsule& held, const std::string& place) { return yield_to(book_from(held).yield_at(batch_place_from(place))); });
    m.def("ledger_yields", [](const py::capsule& held) {
        py::list list;
        for (const LedgerYield& y : book_from(held).yields()) list.append(yield_to(y));
        return list;
    });
    m.def("ledger_sheet", [](const py::capsule& held, const double coverage) { return book_from(held).sheet(coverage); });
    m.def("published_alcohol_yields", [] {
        py::list rows;
        for (const published_alcohol_yield& row : published_alcohol_yield_rows) rows.append(py::make_tuple(row.material, row.process, row.litres_per_tonne));
        return rows;
    });
    py::list places;
    for (const ferment::detail::batch_place_facts& facts : ferment::detail::batch_places) places.append(py::cast(facts.key));
    m.attr("batch_places") = py::tuple(places);
    m.attr("usual_coverage") = Ledger::default_coverage;
}

}  // namespace

Asked asked_from(const py::dict& values) {
    Asked asked;
    PlanRequest& r = asked.request;
    r.bill = bill_from(values["bill"].cast<py::list>());
    r.water_kg = values["water_kg"].cast<double>();
    r.assumptions = assumptions_from(values["assumptions"].cast<py::dict>());
    r.dissolved_by_products = pair_from(values["dissolved_by_products"], percent);
    r.handling = {pair_from(values["absorption"]), values["mash_head_space"].cast<double>() / percent};
    r.stripping_still = setup_from(values["stripping_still"].cast<py::dict>());
    const auto [stop, value] = values["stripping_end"].cast<std::pair<std::string, double>>();
    r.stripping_stop = strip_stop_from(stop, value);
    r.conditions = conditions_from(values["conditions"].cast<py::dict>());
    r.spirit = spirit_from(values["spirit"].cast<py::dict>());
    r.cuts = cuts_from(values["cuts"].cast<py::dict>(), asked.text);
    const auto recycled = values["recycled"].cast<py::dict>();
    r.recycled = {recycled["volume_l"].cast<double>(), recycled["abv"].cast<double>() / percent, recycle_into_from(recycled["into"].cast<std::string>())};
    const auto bottling = values["bottling"].cast<py::dict>();
    r.bottling = {bottling["target_abv"].cast<double>() / percent, bottling["bottle_l"].cast<double>(), bottling["water_c"].cast<double>(),
                  bottling["fill_c"].cast<double>()};
    r.turnaround_h = values["turnaround_h"].cast<double>();
    r.curve_points = whole("points of the curves", values["curve_points"].cast<std::int64_t>());
    return asked;
}

void bind_batch(py::module_& m) {
    m.def("plan", [](const py::dict& request) { return plan_to(planned(asked_from(request))); });
    const PlanRequest usual;
    py::dict d;
    d["dissolved_by_products"] = pair_to(usual.dissolved_by_products, percent);
    d["absorption"] = pair_to(usual.handling.absorption);
    d["mash_head_space"] = percent * usual.handling.head_space_share;
    d["stripping_end_abv"] = percent * usual_plan::stripping_end_abv;
    d["strongest_spirit_charge_abv"] = percent * usual_plan::strongest_spirit_charge_abv;
    d["spirit_end_abv"] = percent * usual_plan::spirit_end_abv;
    d["fore_shots_share"] = percent * usual_plan::fore_shots_share;
    d["heads_share"] = percent * usual_plan::heads_share;
    d["hearts_end_abv"] = percent * usual_plan::hearts_end_abv;
    d["bottling_abv"] = percent * usual_plan::bottling_abv;
    d["bottle_l"] = usual_plan::bottle_l;
    d["turnaround_h"] = usual_plan::turnaround_h;
    d["curve_points"] = usual_plan::curve_points;
    m.attr("usual_plan") = d;
    bind_ledger(m);
}

}  // namespace ferment_python
