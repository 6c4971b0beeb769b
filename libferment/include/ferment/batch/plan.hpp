#pragma once
// From sacks to bottles in one call: what a bill of grain becomes in these stills, how long it takes, and where every litre of alcohol goes.

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdio>
#include <ferment/batch/ledger.hpp>
#include <ferment/core/error.hpp>
#include <ferment/core/quantity.hpp>
#include <ferment/core/solve.hpp>
#include <ferment/core/source.hpp>
#include <ferment/core/uncertain.hpp>
#include <ferment/fermentation/end_point.hpp>
#include <ferment/liquid/spirit.hpp>
#include <ferment/mash/bill.hpp>
#include <ferment/mash/potential.hpp>
#include <ferment/mash/water.hpp>
#include <ferment/proofing/blend.hpp>
#include <ferment/proofing/bottling.hpp>
#include <ferment/proofing/dilution.hpp>
#include <ferment/still/cautions.hpp>
#include <ferment/still/charge.hpp>
#include <ferment/still/column.hpp>
#include <ferment/still/congeners.hpp>
#include <ferment/still/cuts.hpp>
#include <ferment/still/duty.hpp>
#include <ferment/still/packing.hpp>
#include <ferment/still/stripping.hpp>
#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace ferment {

// ---- what is asked ----

inline constexpr source usual_plan_source{
    "usual_plan",
    "what a plan takes where nothing is said: ends of the runs, cuts, strengths [% vol], bottle [L], time between charges [h]",
    "common practice, no source; the end of hearts is that of heart_end, the share of fore-shots lies in that of fore_shot_share",
    "grain spirit in small stills",
    "habits; every one of them is a field of the request",
    source_status::common_practice,
};

/// Common practice, no source: usual_plan_source.
struct usual_plan {
    static constexpr double stripping_end_abv = 0.05;            ///< of what comes over
    static constexpr double strongest_spirit_charge_abv = 0.30;  ///< weaker charges part better and burn less
    static constexpr double spirit_end_abv = 0.10;               ///< of what comes over
    static constexpr double fore_shots_share = 0.01;             ///< of the pure alcohol of the charge, from the first drop
    static constexpr double heads_share = 0.06;                  ///< the same, fore-shots included
    static constexpr double hearts_end_abv = 0.60;               ///< of what comes over
    static constexpr double bottling_abv = 0.40;
    static constexpr double bottle_l = 0.7;
    static constexpr double turnaround_h = 1.0;
    static constexpr int curve_points = 101;
};

enum class recycle_into { wash, low_wines };

/// Heads and tails of an earlier run. Never fore-shots: what makes them fore-shots would gather from run to run.
struct Recycled {
    double volume_l = 0.0;  ///< at 20 degC, all of it; zero: none
    double abv = 0.0;       ///< volume fraction at 20 degC
    recycle_into into = recycle_into::low_wines;
};

/// The second run and its still.
struct SpiritStill {
    std::optional<StillSetup> still{};  ///< nothing: the boiler of the stripping run
    int plates = 0;                     ///< theoretical, above the pot; 0 without packing is a simple still
    double packed_height_m = 0.0;       ///< in place of plates; the whole plates in it count
    double hetp_m = 0.0;                ///< height of one theoretical plate, with packed_height_m
    double hold_up_kg = 0.0;            ///< liquid on the plates while running
    double equilibration_h = 0.0;       ///< at total reflux before the first drop
    TakeOff take_off = TakeOff::at_reflux(0.0);
    ColumnStop stop{usual_plan::spirit_end_abv};
    double strongest_charge_abv = usual_plan::strongest_spirit_charge_abv;  ///< low wines above it are watered down to it
    double dilution_water_c = 20.0;
    double start_c = 20.0;  ///< of the charge before heating
};

/// Where a fraction ends.
///   alcohol_share    of the pure alcohol of the charge, come over since the first drop
///   collected_l      of one charge, L at 20 degC, since the first drop
///   distillate_abv   what comes over has fallen to, volume fraction
struct CutEnd {
    enum class by { alcohol_share, collected_l, distillate_abv };
    by what = by::alcohol_share;
    double value = 0.0;

    static CutEnd alcohol_share(const double share) { return {by::alcohol_share, share}; }
    static CutEnd collected(const volume<>& amount) { return {by::collected_l, value_in(amount, litre)}; }
    static CutEnd distillate(const abv<>& strength) { return {by::distillate_abv, strength.value()}; }

    friend bool operator==(const CutEnd&, const CutEnd&) = default;
};

/// The cuts of the spirit run. A fraction never ends before the one in front of it; one that ends with it is empty.
struct CutPlan {
    CutEnd fore_shots_end{CutEnd::by::alcohol_share, usual_plan::fore_shots_share};
    CutEnd heads_end{CutEnd::by::alcohol_share, usual_plan::heads_share};
    CutEnd hearts_end{CutEnd::by::distillate_abv, usual_plan::hearts_end_abv};  ///< where the run ends before it, hearts end with the run
    bool by_congeners = false;  ///< cut by `rules` in place of the three; only for a still without plates, reflux and hold-up
    std::vector<BoundaryRule> rules{usual_boundaries.begin(), usual_boundaries.end()};
    std::vector<CongenerCharge> congener_levels{};  ///< in the spirit charge; empty: one unit of each, for rules by relative levels
};

struct BottlingPlan {
    double target_abv = usual_plan::bottling_abv;  ///< volume fraction at 20 degC
    double bottle_l = usual_plan::bottle_l;        ///< nominal, at 20 degC
    double water_c = 20.0;                         ///< of the water that dilutes
    double fill_c = 20.0;                          ///< of the spirit when it is filled
};

/// Everything a plan needs. Bill, water and the stripping still must be given; the rest has the defaults of common practice.
struct PlanRequest {
    Bill bill{};
    double water_kg = 0.0;  ///< added to the mash
    Assumptions assumptions = no_cook::assumptions();
    measured dissolved_by_products = residue::dissolved_by_products;
    MashHandling handling{};  ///< absorption 0 is a wash distilled on its grain, as far as alcohol goes
    StillSetup stripping_still{};
    StripStop stripping_stop{StripStop::when::distillate_abv, usual_plan::stripping_end_abv};
    RunConditions conditions{};  ///< of both runs but for start_c, which is the wash's
    SpiritStill spirit{};
    CutPlan cuts{};
    Recycled recycled{};
    BottlingPlan bottling{};
    double turnaround_h = usual_plan::turnaround_h;  ///< between two charges
    int curve_points = usual_plan::curve_points;     ///< of both curves, 2 to 10000
};

// ---- what comes of it ----

/// What the spirit runs give under one label, all charges together.
struct PlanFraction {
    cut_label label = cut_label::none;
    StillLiquid content{};       ///< all charges
    double from_l = 0.0;         ///< collected in one charge when it begins, L at 20 degC
    double to_l = 0.0;           ///< and when it ends
    double from_abv = 0.0;       ///< of what comes over when it begins, volume fraction
    double to_abv = 0.0;         ///< and when it ends
    double alcohol_share = 0.0;  ///< of the pure alcohol of the spirit charges
};

/// Heat, time and cooling water of one charge of the spirit still, from the same balance of heat as a stripping run: pot, plates and metal get hotter,
/// the condenser takes reflux and distillate. The hours of ColumnRun leave the warming pot out and are some per cent fewer.
struct SpiritDuty {
    double heat_up_kwh = 0.0;  ///< drawn until the charge boils
    double heat_up_h = 0.0;
    double run_kwh = 0.0;  ///< drawn from then on, total reflux included
    double run_h = 0.0;
    double energy_kwh = 0.0;
    double total_h = 0.0;
    double condenser_kwh = 0.0;      ///< reflux condensed at its boiling point, distillate cooled
    double condenser_peak_kw = 0.0;  ///< the greatest between two points of the curve, or at total reflux
    double water_l = 0.0;            ///< measured cold
    double water_peak_l_per_h = 0.0;
};

/// Both runs, all charges.
struct PlanTotals {
    std::size_t charges = 0;
    double energy_kwh = 0.0;
    double condenser_kwh = 0.0;
    double water_l = 0.0;    ///< cooling
    double running_h = 0.0;  ///< heated
    double turnaround_h = 0.0;
    double total_h = 0.0;
    double energy_kwh_per_pure_alcohol_l = 0.0;  ///< in the hearts
};

/// Predictions with their doubt. It is that of the alcohol in the wash (bill, conversion, efficiency, absorption), carried on in proportion: to first
/// order, and as if more alcohol made more of each liquid at the same strength. It makes stronger liquids, too: against plans with another conversion
/// (simple still, wash of 9 % vol) the doubt of the hearts should be 1.5 times as large and that of the litres of low wines half as large; what_if tells.
/// Recycled alcohol counts as known; stills, cuts and model add nothing.
struct Predicted {
    Uncertain wash_pure_alcohol_l;  ///< in the strained wash
    Uncertain low_wines_l;          ///< at 20 degC, all charges
    Uncertain low_wines_pure_alcohol_l;
    Uncertain hearts_l;  ///< as cut, before dilution
    Uncertain hearts_pure_alcohol_l;
    Uncertain bottled_l;  ///< at bottling strength
    Uncertain bottles;    ///< the rest as a part of one
};

/// One line of the balance.
struct PlanFlow {
    std::string what;
    double mass_kg = 0.0;
    double ethanol_kg = 0.0;
};

/// A plan, stage by stage.
struct Plan {
    PlanRequest request{};
    Potential potential{};
    EndPoint end_point{};
    WaterBalance water{};
    StillLiquid strained{};  ///< wash off the grain
    StillLiquid in_grain{};  ///< wash that the spent grain keeps
    StillLiquid recycled{};
    ChargePlan stripping_charges{};
    Stripping stripping{};         ///< one charge
    StillDuty stripping_duty{};    ///< one charge
    StillBill stripping_bill{};    ///< all charges
    StillLiquid low_wines{};       ///< all charges
    double spirit_water_kg = 0.0;  ///< added to all spirit charges
    double spirit_water_l = 0.0;   ///< at its temperature
    ChargePlan spirit_charges{};
    int plates = 0;                           ///< of the spirit still
    ColumnRun spirit_run{};                   ///< one charge
    SpiritDuty spirit_duty{};                 ///< one charge
    std::optional<Windows> windows{};         ///< where cuts go by congeners
    std::array<PlanFraction, 4> fractions{};  ///< fore_shots, heads, hearts, tails
    StillLiquid left{};                       ///< in the spirit still, all charges
    Dilution dilution{};                      ///< of the hearts
    Bottling bottling{};
    PlanTotals totals{};
    Predicted predicted{};
    std::vector<PlanFlow> in{};   ///< all that goes into the batch
    std::vector<PlanFlow> out{};  ///< and all that leaves it
    std::string_view cautions = still_cautions;

    /// The fraction of a label. Throws InputError for `none`.
    [[nodiscard]] const PlanFraction& fraction(const cut_label label) const {
        for (const PlanFraction& f : fractions) {
            if (f.label == label) return f;
        }
        throw InputError("a plan has no fraction labelled " + std::string(to_string(label)));
    }

    /// What does not close from grain and water to bottles: the larger of the relative errors of mass and of ethanol.
    [[nodiscard]] double balance_error() const {
        double mass_in = 0.0, mass_out = 0.0, ethanol_in = 0.0, ethanol_out = 0.0;
        for (const PlanFlow& f : in) {
            mass_in += f.mass_kg;
            ethanol_in += f.ethanol_kg;
        }
        for (const PlanFlow& f : out) {
            mass_out += f.mass_kg;
            ethanol_out += f.ethanol_kg;
        }
        const double mass_error = std::abs(mass_out / mass_in - 1.0);
        const double ethanol_error = std::abs(ethanol_out / ethanol_in - 1.0);
        return std::isnan(mass_error) || mass_error > ethanol_error ? mass_error : ethanol_error;  // NaN is never hidden
    }

    /// The plan as the expectations of a ledger, in which measurements then take their place. Each with its doubt in proportion, as Predicted.
    [[nodiscard]] Ledger ledger() const;

    /// The plan as text to print, in lines of at most 100 characters, cautions at the end.
    [[nodiscard]] std::string sheet() const;
};

/// What plans of one pressure share: the table of the vapour, made when the first of them asks for it. One for each thread.
class PlanTables {
public:
    const wash_equilibrium& at(const pressure<>& pot) {
        if (!vapour_ || vapour_->pressure() != pot.value()) vapour_.emplace(detail::equilibrium_at(pot));
        return *vapour_;
    }

private:
    std::optional<wash_equilibrium> vapour_{};
};

namespace detail {

/// A label as people write it: "fore-shots".
inline std::string spoken(const cut_label label) {
    std::string text(to_string(label));
    std::replace(text.begin(), text.end(), '_', '-');
    return text;
}

/// Names the stage in front of what went wrong in it.
template <class F>
auto at_stage(const std::string_view stage, const F& f) {
    const auto named = [&](const Error& e) { return std::string(stage) + ": " + e.what(); };
    try {
        return f();
    } catch (const RangeError& e) {
        throw RangeError(named(e));
    } catch (const InputError& e) {
        throw InputError(named(e));
    } catch (const SolveError& e) {
        throw SolveError(named(e));
    }
}

inline StillLiquid times(const StillLiquid& one, const double n) {
    return {n * one.mass_kg, one.abw, one.extract};
}

inline SpiritMass spirit_mass(const StillLiquid& liquid) {
    return {liquid.mass_kg * kilogram, liquid.ethanol_kg() * kilogram};
}

/// What has come over in one charge: ethanol over kg collected, a cubic between the points of the curve with the strength of the drop as its slope.
class collected_curve {
public:
    collected_curve(const ColumnRun& run, const double charge_ethanol_kg) : run_(run), charge_ethanol_kg_(charge_ethanol_kg) {}

    struct moment {
        double collected_kg = 0.0;
        double ethanol_kg = 0.0;
        double drop_abw = 0.0;

        [[nodiscard]] StillLiquid since(const moment& before) const {
            const double kg = collected_kg - before.collected_kg;
            return {kg, kg > 0.0 ? (ethanol_kg - before.ethanol_kg) / kg : drop_abw, 0.0};
        }
        [[nodiscard]] double collected_l() const { return collected_kg > 0.0 ? column_units::litres(collected_kg, ethanol_kg / collected_kg) : 0.0; }
    };

    [[nodiscard]] moment start() const { return node(0); }
    [[nodiscard]] moment end() const { return node(run_.points.size() - 1); }

    [[nodiscard]] moment at(const double collected_kg) const {
        std::size_t i = 1;
        while (i + 1 < run_.points.size() && run_.points[i].collected_kg < collected_kg) ++i;
        const double width = run_.points[i].collected_kg - run_.points[i - 1].collected_kg;
        return between(i, (collected_kg - run_.points[i - 1].collected_kg) / width);
    }

    /// The first moment a rule is met; nothing where the run ends before.
    [[nodiscard]] std::optional<moment> first(const CutEnd& rule) const {
        if (ahead(rule, start()) <= 0.0) return start();
        for (std::size_t i = 1; i < run_.points.size(); ++i) {
            if (ahead(rule, node(i)) > 0.0) continue;
            const auto f = [&](const double s) { return ahead(rule, between(i, s)); };
            constexpr double middle = 0.5;
            const double s = num::bracketed_newton<double>([&](const double x) { return wash::with_slope<double>(f, x); }, 0.0, 1.0, middle);
            return between(i, s);
        }
        return std::nullopt;
    }

private:
    [[nodiscard]] moment node(const std::size_t i) const {
        const ColumnPoint& p = run_.points[i];
        // The last one as the run states it, so that nothing is lost between the two.
        if (i + 1 == run_.points.size()) return {run_.distillate_kg, run_.distillate_ethanol_kg, p.abw};
        return {p.collected_kg, i == 0 ? 0.0 : p.collected_kg * p.collected_abw, p.abw};
    }

    /// Cell i ends at point i; s runs from 0 to 1 in it.
    [[nodiscard]] moment between(const std::size_t i, const double s) const {
        const moment a = node(i - 1);
        const moment b = node(i);
        const double width = b.collected_kg - a.collected_kg;
        const double rise = b.ethanol_kg - a.ethanol_kg;
        const double u = 1.0 - s;
        const double ethanol = a.ethanol_kg + s * s * (1.0 + 2.0 * u) * rise + width * s * u * (u * a.drop_abw - s * b.drop_abw);
        const double drop = 6.0 * s * u * rise / width + u * (1.0 - 3.0 * s) * a.drop_abw + s * (1.0 - 3.0 * u) * b.drop_abw;
        return {a.collected_kg + s * width, ethanol, drop};
    }

    /// What is left until a rule is met, positive before it; of the order of one.
    [[nodiscard]] double ahead(const CutEnd& rule, const moment& m) const {
        switch (rule.what) {
            case CutEnd::by::alcohol_share: return rule.value - m.ethanol_kg / charge_ethanol_kg_;
            case CutEnd::by::collected_l: return rule.value == 0.0 ? 0.0 : 1.0 - litres(m) / rule.value;
            case CutEnd::by::distillate_abv: return volume_at_20c::from_abw(m.drop_abw) - rule.value;
        }
        return std::numeric_limits<double>::quiet_NaN();
    }
    [[nodiscard]] static double litres(const moment& m) {
        return column_units::litres(m.collected_kg, m.collected_kg == 0.0 ? m.drop_abw : m.ethanol_kg / m.collected_kg);
    }

    const ColumnRun& run_;
    double charge_ethanol_kg_;
};

inline void require_cut(const std::string_view name, const CutEnd& end) {
    const std::string what = "end of " + std::string(name);
    switch (end.what) {
        case CutEnd::by::alcohol_share: require_share_of(what, end.value, {0.0, 1.0}, "a share of the pure alcohol of the charge"); break;
        case CutEnd::by::collected_l: require_number(what, end.value, "L", any_amount, ""); break;
        case CutEnd::by::distillate_abv:
            require_number(what, percent * end.value, "% vol", {0.0, percent * strongest_distillate_abv}, strongest_distillate.citation);
            break;
    }
}

inline void require_request(const PlanRequest& r) {
    constexpr int fewest = 2;
    constexpr int most = 10000;
    require_inside("points of the curves", r.curve_points, "", {fewest, most}, "start and end, and no more than a screen shows");
    require_number("turnaround", r.turnaround_h, "h", any_amount, "hours between two charges");
}

/// Theoretical plates of the spirit still.
inline int plates_of(const SpiritStill& s) {
    if (s.packed_height_m == 0.0 && s.hetp_m == 0.0) return s.plates;
    if (s.plates != 0) throw InputError("plates and a packed height are given; give one of them");
    return whole_plates_of_packing(s.packed_height_m, s.hetp_m);
}

/// The three ends of fore-shots, heads and hearts, in kg collected of one charge.
using cut_moments = std::array<collected_curve::moment, 3>;

inline constexpr std::array<cut_label, 3> cut_ends{cut_label::fore_shots, cut_label::heads, cut_label::hearts};

inline Windows windows_of(const Plan& p, const CutPlan& cuts, const double pressure_kpa) {
    const TakeOff& take_off = p.request.spirit.take_off;
    const bool simple = p.plates == 0 && take_off.mode == take_off_mode::constant_reflux && take_off.reflux == 0.0;
    if (!simple) throw InputError("congeners are followed through a simple still only; with plates or reflux cut by share, volume or strength");
    std::vector<CongenerCharge> levels = cuts.congener_levels;
    for (const BoundaryRule& rule : cuts.rules) {
        if (!cuts.congener_levels.empty() || rule.congener.empty()) continue;
        if (rule.by == boundary_by::grams_per_hl) {
            throw InputError("the rule that ends " + std::string(rule.ends) + " goes by g/hL; give the level of " + std::string(rule.congener));
        }
        levels.push_back({congener(rule.congener)});
    }
    std::vector<RunPoint> points;
    for (const ColumnPoint& point : p.spirit_run.points) points.push_back({point.pot_kg, point.pot_abw});
    return ferment::windows(points, levels, pressure_kpa * kilopascal, cuts.rules);
}

inline cut_moments cut_at(const collected_curve& curve, const CutPlan& cuts, const std::optional<Windows>& windows_found) {
    const std::array<const CutEnd*, 3> ends{&cuts.fore_shots_end, &cuts.heads_end, &cuts.hearts_end};
    cut_moments found{};
    collected_curve::moment before = curve.start();
    for (std::size_t k = 0; k < cut_ends.size(); ++k) {
        const std::string name(to_string(cut_ends[k]));
        std::optional<collected_curve::moment> end;
        if (windows_found) {
            const auto& all = windows_found->boundaries;
            const auto at = std::find_if(all.begin(), all.end(), [&](const Boundary& b) { return b.rule.ends == name; });
            if (at == all.end()) throw InputError("no rule ends " + name);
            if (at->reached) end = curve.at(at->collected_kg);
        } else {
            require_cut(name, *ends[k]);
            end = curve.first(*ends[k]);
        }
        if (!end) {
            if (cut_ends[k] != cut_label::hearts) throw SolveError("the run ends before " + name + " do; there would be no hearts");
            end = curve.end();
        }
        found[k] = end->collected_kg > before.collected_kg ? *end : before;
        before = found[k];
    }
    if (!(found[2].collected_kg > found[1].collected_kg)) {
        throw SolveError("no hearts: they end with the heads, at " + format_quantity(found[1].collected_l(), "L") + " collected and " +
                         format_quantity(percent * volume_at_20c::from_abw(found[1].drop_abw), "% vol") + " coming over");
    }
    return found;
}

inline SpiritDuty spirit_duty_of(const Plan& p, const StillSetup& still, const RunConditions& at) {
    const ColumnRun& run = p.spirit_run;
    // A run of nothing: it ends at the first drop, and what it takes is the heating up.
    constexpr std::size_t two_points = 2;
    const Stripping first_drop = strip(p.spirit_charges.charge, still, StripStop::collected(0.0 * litre), two_points);
    const StillDuty warm = ferment::stripping_duty(first_drop, still, at);
    SpiritDuty d;
    d.heat_up_kwh = warm.energy_kwh;
    d.heat_up_h = warm.heat_up_h;
    const heating_balance heating(still, at.ambient_c);
    const double hold_up_kg = p.request.spirit.hold_up_kg;
    const double pot_pa = still.pressure_kpa * kilopascal.value();
    const double joules_per_kilojoule = kilojoule.value();
    wash_vapour::bubble_course on_plates;
    const auto held_kj = [&](const ColumnPoint& x) {
        double plates = 0.0;
        if (hold_up_kg > 0.0) {
            const double on_plates_c = on_plates.at(x.hold_up_abw, 0.0, pot_pa, wash_vapour::extract_molar_mass).boiling_c;
            plates = hold_up_kg * spirit_heat::liquid_enthalpy(x.hold_up_abw, on_plates_c);
        }
        return (x.pot_kg * spirit_heat::liquid_enthalpy(x.pot_abw, x.pot_c) + plates) / joules_per_kilojoule + still.still_heat_kj_per_k * x.pot_c;
    };
    // Heat that leaves the head for each kg of distillate, reflux counted, and what the distillate keeps when it is cold.
    const auto head_kj = [&](const ColumnPoint& x) {
        const double condensed = (1.0 + x.reflux) * spirit_heat::latent_heat(x.abw, x.head_c);
        return (condensed + spirit_heat::liquid_enthalpy(x.abw, x.head_c)) / joules_per_kilojoule;
    };
    const auto cooled_kj = [&](const ColumnPoint& x) {
        return x.collected_kg * spirit_heat::liquid_enthalpy(x.collected_abw, at.distillate_c) / joules_per_kilojoule;
    };

    const double equilibration_h = p.request.spirit.equilibration_h;
    const double total_reflux_kw = heating.useful_kw(run.points.front().pot_c);
    double run_s = equilibration_h * seconds_per_hour;
    double taken_kj = total_reflux_kw * run_s;
    if (equilibration_h > 0.0) d.condenser_peak_kw = total_reflux_kw;
    struct heats {
        double collected_kg, head_kj, held_kj, cooled_kj, useful_kw;
    };
    const auto at_point = [&](const ColumnPoint& x) { return heats{x.collected_kg, head_kj(x), held_kj(x), cooled_kj(x), heating.useful_kw(x.pot_c)}; };
    heats a = at_point(run.points.front());
    for (std::size_t i = 1; i < run.points.size(); ++i) {
        const heats b = at_point(run.points[i]);
        const double kg = 0.5 * (b.collected_kg - a.collected_kg);
        const double off_the_head_kj = kg * (a.head_kj + b.head_kj);
        const double given_kj = b.held_kj - a.held_kj + off_the_head_kj;
        const double step_kj = off_the_head_kj - (b.cooled_kj - a.cooled_kj);
        const double seconds = 2.0 * given_kj / (a.useful_kw + b.useful_kw);
        run_s += seconds;
        taken_kj += step_kj;
        if (seconds > 0.0) d.condenser_peak_kw = std::max(d.condenser_peak_kw, step_kj / seconds);
        a = b;
    }
    d.condenser_kwh = taken_kj / kilojoules_per_kilowatt_hour;
    d.run_h = run_s / seconds_per_hour;
    d.run_kwh = still.heating_kw * d.run_h;
    d.energy_kwh = d.heat_up_kwh + d.run_kwh;
    d.total_h = d.heat_up_h + d.run_h;
    // The same water warms up by as much as in the stripping run.
    const double litres_per_kwh = p.stripping_duty.water_l / p.stripping_duty.condenser_kwh;
    d.water_l = d.condenser_kwh * litres_per_kwh;
    d.water_peak_l_per_h = d.condenser_peak_kw * litres_per_kwh;
    return d;
}

/// How much of everything there is in proportion to the alcohol it comes from: one, with its doubt.
struct proportions {
    Uncertain wash_kg;    ///< ethanol in the strained wash
    Uncertain stripping;  ///< of what the stripping run gives
    Uncertain spirit;     ///< of what the spirit run gives

    explicit proportions(const Plan& p) : wash_kg(p.end_point.ethanol_kg * p.water.free_share) {
        const double recycled_kg = p.recycled.ethanol_kg();
        spirit = (wash_kg + recycled_kg) / (wash_kg.value() + recycled_kg);
        stripping = p.request.recycled.into == recycle_into::wash ? spirit : wash_kg / wash_kg.value();
    }
};

inline void mash_and_ferment(Plan& p) {
    const PlanRequest& r = p.request;
    p.potential = at_stage("mash", [&] { return ferment::potential(r.bill, r.water_kg * kilogram, r.assumptions); });
    p.end_point = at_stage("end point", [&] { return ferment::end_point(p.potential, r.dissolved_by_products); });
    p.water = at_stage("water balance", [&] { return water_balance(r.bill, p.potential, r.handling); });
    const StillLiquid all{p.end_point.wash_kg.value(), p.end_point.abw.value(), p.end_point.real_extract.value()};
    p.strained = times(all, p.water.free_share.value());
    p.in_grain = times(all, 1.0 - p.water.free_share.value());
}

inline void strip_wash(Plan& p) {
    const PlanRequest& r = p.request;
    p.recycled = at_stage("recycled heads and tails", [&] {
        require_number("volume", r.recycled.volume_l, "L", any_amount, "");
        return r.recycled.volume_l == 0.0 ? StillLiquid{}
                                          : still_liquid(r.recycled.volume_l * litre, abv<>::from_value(r.recycled.abv), extract<>::from_value(0.0));
    });
    at_stage("stripping", [&] {
        const bool with_wash = r.recycled.into == recycle_into::wash && p.recycled.mass_kg > 0.0;
        require_liquid(p.strained);
        p.stripping_charges = plan_charges(with_wash ? mixed(p.strained, p.recycled) : p.strained, r.stripping_still);
        const double n = static_cast<double>(p.stripping_charges.count);
        p.stripping_charges.wash = times(p.strained, 1.0 / n);
        if (with_wash) p.stripping_charges.reserve = times(p.recycled, 1.0 / n);
        p.stripping = strip(p.stripping_charges.charge, r.stripping_still, r.stripping_stop, static_cast<std::size_t>(r.curve_points));
        if (!(p.stripping.low_wines.ethanol_kg() > 0.0)) throw SolveError("no low wines come over");
        p.stripping_duty = ferment::stripping_duty(p.stripping, r.stripping_still, r.conditions);
        p.stripping_bill = all_charges(p.stripping_duty, p.stripping, p.stripping_charges.count, r.turnaround_h);
        p.low_wines = times(p.stripping.low_wines, n);
        return 0;
    });
}

inline void run_spirit(Plan& p, PlanTables& tables) {
    const PlanRequest& r = p.request;
    const SpiritStill& s = r.spirit;
    const StillSetup& still = s.still ? *s.still : r.stripping_still;
    at_stage("spirit charge", [&] {
        const bool with_low_wines = r.recycled.into == recycle_into::low_wines && p.recycled.mass_kg > 0.0;
        StillLiquid charge = with_low_wines ? mixed(p.low_wines, p.recycled) : p.low_wines;
        require_number("greatest strength", percent * s.strongest_charge_abv, "% vol", percent_range, "a strength");
        require_number("water temperature", s.dilution_water_c, "degC", {0.0, oiml_r22::t_range.upper}, oiml_r22::from.citation);
        if (charge.abv() > s.strongest_charge_abv) {
            const abw<> target = abw_from_abv(abv<>::from_value(s.strongest_charge_abv));
            const Dilution weaker = dilute(spirit_mass(charge), target, s.dilution_water_c * degree_celsius);
            p.spirit_water_kg = weaker.water.value();
            p.spirit_water_l = value_in(weaker.water_volume, litre);
            charge = {weaker.result.total.value(), strength_of(weaker.result).value(), 0.0};
        }
        p.spirit_charges = plan_charges(charge, still);
        return 0;
    });
    RunConditions at = r.conditions;
    at.start_c = s.start_c;
    at_stage("spirit run", [&] {
        p.plates = plates_of(s);
        require_more_than_none("heating", still.heating_kw, "kW");
        require_share_of("heat loss", still.heat_loss_share, {0.0, 1.0}, "a share of the heating");
        require_number("heat loss", still.heat_loss_w_per_k, "W/K", any_amount, "");
        const pressure<> pot = still.pressure_kpa * kilopascal;
        const double hottest_c = wash_vapour::bubble_point<double>(0.0, pot.value()).boiling_c;
        const double loss_kw = still.heating_kw - heating_balance(still, at.ambient_c).useful_kw(hottest_c);
        const StillLiquid& charge = p.spirit_charges.charge;
        p.spirit_run = rectify({charge.mass_kg, charge.abw}, {p.plates, s.hold_up_kg}, {still.heating_kw, loss_kw, s.equilibration_h}, s.take_off, s.stop,
                               tables.at(pot), r.curve_points);
        p.spirit_duty = spirit_duty_of(p, still, at);
        return 0;
    });
    at_stage("cuts", [&] {
        const double n = static_cast<double>(p.spirit_charges.count);
        const double charged = p.spirit_charges.charge.ethanol_kg();
        const collected_curve curve(p.spirit_run, charged);
        if (r.cuts.by_congeners) p.windows = windows_of(p, r.cuts, still.pressure_kpa);
        const cut_moments ends = cut_at(curve, r.cuts, p.windows);
        collected_curve::moment before = curve.start();
        for (std::size_t k = 0; k < p.fractions.size(); ++k) {
            const collected_curve::moment end = k < ends.size() ? ends[k] : curve.end();
            const StillLiquid one = end.since(before);
            p.fractions[k] = {cut_labels[k],
                              times(one, n),
                              before.collected_l(),
                              end.collected_l(),
                              volume_at_20c::from_abw(before.drop_abw),
                              volume_at_20c::from_abw(end.drop_abw),
                              one.ethanol_kg() / charged};
            before = end;
        }
        p.left = {n * p.spirit_run.residue_kg, p.spirit_run.residue_abw, 0.0};
        return 0;
    });
}

inline void bottle_hearts(Plan& p) {
    const BottlingPlan& b = p.request.bottling;
    at_stage("bottling", [&] {
        require_number("target strength", percent * b.target_abv, "% vol", percent_range, "a strength");
        require_number("water temperature", b.water_c, "degC", {0.0, oiml_r22::t_range.upper}, oiml_r22::from.citation);
        require_number("temperature when filled", b.fill_c, "degC", oiml_r22::t_range, oiml_r22::from.citation);
        require_more_than_none("bottle", b.bottle_l, "L");
        const abw<> target = abw_from_abv(abv<>::from_value(b.target_abv));
        p.dilution = dilute(spirit_mass(p.fraction(cut_label::hearts).content), target, b.water_c * degree_celsius);
        p.bottling = bottles(p.dilution.result, b.bottle_l * litre, b.fill_c * degree_celsius);
        return 0;
    });
}

inline void add_up(Plan& p) {
    const PlanRequest& r = p.request;
    const double n = static_cast<double>(p.spirit_charges.count);
    PlanTotals& t = p.totals;
    t.charges = p.stripping_charges.count + p.spirit_charges.count;
    t.energy_kwh = p.stripping_bill.energy_kwh + n * p.spirit_duty.energy_kwh;
    t.condenser_kwh = p.stripping_bill.condenser_kwh + n * p.spirit_duty.condenser_kwh;
    t.water_l = p.stripping_bill.water_l + n * p.spirit_duty.water_l;
    t.running_h = p.stripping_bill.running_h + n * p.spirit_duty.total_h;
    t.turnaround_h = static_cast<double>(t.charges - 1) * r.turnaround_h;
    t.total_h = t.running_h + t.turnaround_h;
    const StillLiquid& hearts = p.fraction(cut_label::hearts).content;
    t.energy_kwh_per_pure_alcohol_l = t.energy_kwh / hearts.pure_alcohol_l();

    const proportions by(p);
    const double bottled_l = value_in(p.dilution.volume_at_20c, litre);
    p.predicted.wash_pure_alcohol_l = pure_alcohol_litres(by.wash_kg);
    p.predicted.low_wines_l = by.stripping * p.low_wines.volume_l();
    p.predicted.low_wines_pure_alcohol_l = by.stripping * p.low_wines.pure_alcohol_l();
    p.predicted.hearts_l = by.spirit * hearts.volume_l();
    p.predicted.hearts_pure_alcohol_l = by.spirit * hearts.pure_alcohol_l();
    p.predicted.bottled_l = by.spirit * bottled_l;
    p.predicted.bottles = p.predicted.bottled_l / r.bottling.bottle_l;

    // From the stages themselves, none from the sum of the others.
    const Uncertain all(1.0);
    const wash_masses<Uncertain> mash = wash_model::of(p.potential, r.dissolved_by_products).stage(p.potential.conversion, all);
    const auto liquid = [](std::string what, const StillLiquid& x) { return PlanFlow{std::move(what), x.mass_kg, x.ethanol_kg()}; };
    p.in = {{"grain", p.potential.grain_kg, 0.0},
            {"water of the mash", p.potential.water_kg, 0.0},
            {"made by the yeast", 0.0, p.end_point.ethanol_kg.value()},
            liquid("recycled heads and tails", p.recycled),
            {"water to the spirit charge", p.spirit_water_kg, 0.0},
            {"water to bottling strength", p.dilution.water.value(), 0.0}};
    const double bottled_abw = strength_of(p.dilution.result).value();
    const double kg_per_l = volume_at_20c::density(bottled_abw) / litres_per_cubic_metre;
    const double in_bottles_kg = static_cast<double>(p.bottling.full) * r.bottling.bottle_l * kg_per_l;
    const double rest_kg = value_in(p.bottling.rest_at_20c, litre) * kg_per_l;
    p.out = {{"carbon dioxide", mash.carbon_dioxide.value(), 0.0},
             {"starch not converted", mash.starch.value(), 0.0},
             {"spent grain and yeast, dry", mash.insoluble.value(), 0.0},
             liquid("wash kept by the spent grain", p.in_grain),
             liquid("left in the stripping still", times(p.stripping.pot, static_cast<double>(p.stripping_charges.count))),
             liquid("left in the spirit still", p.left)};
    for (const PlanFraction& f : p.fractions) {
        if (f.label != cut_label::hearts) p.out.push_back(liquid(detail::spoken(f.label), f.content));
    }
    p.out.push_back({"bottles", in_bottles_kg, in_bottles_kg * bottled_abw});
    p.out.push_back({"rest of the last bottle", rest_kg, rest_kg * bottled_abw});
}

}  // namespace detail

/// From grain to bottles.
///   request   see PlanRequest; each part has the ranges of what works it out
///   ->        every stage, totals, predictions with their doubt, and the balance; mass and ethanol close to 1e-10
/// The fermentation ends with no sugar left (end_point); nothing is lost in pumping, pressing or with the gas; all charges of a still are alike. Cuts
/// lie on a cubic through the points of the curve: with 101 points within 1e-6 of where a run that stops there ends, up to 20 plates (tested to 10).
///   tables    kept from plan to plan where there are many; the result is the same without
/// Throws as the parts do, with the stage in front of the message: mash, end point, water balance, recycled heads and tails, stripping, spirit charge,
/// spirit run, cuts, bottling. SolveError where fore-shots or heads do not end within the run, and where no hearts are left.
inline Plan plan(const PlanRequest& request, PlanTables& tables) {
    Plan p;
    p.request = request;
    detail::at_stage("request", [&] {
        detail::require_request(request);
        return 0;
    });
    detail::mash_and_ferment(p);
    detail::strip_wash(p);
    detail::run_spirit(p, tables);
    detail::bottle_hearts(p);
    detail::add_up(p);
    return p;
}
inline Plan plan(const PlanRequest& request) {
    PlanTables tables;
    return plan(request, tables);
}

inline Ledger Plan::ledger() const {
    const detail::proportions by(*this);
    const auto litres = [](const StillLiquid& x) { return x.pure_alcohol_l(); };
    const auto of_label = [&](const cut_label label) { return by.spirit * litres(fraction(label).content); };
    const double bottled_l = pure_alcohol(dilution.result).value() * litres_per_cubic_metre;
    const double in_full = static_cast<double>(bottling.full) * request.bottling.bottle_l * request.bottling.target_abv;
    Ledger book(potential, water);
    if (recycled.mass_kg > 0.0) {
        book.bring_in(request.recycled.into == recycle_into::wash ? batch_place::low_wines : batch_place::hearts, litres(recycled), "recycled heads and tails");
    }
    book.expect(batch_place::kept_by_grain, end_point.pure_alcohol_l * (1.0 - water.free_share))
        .expect(batch_place::stripping_pot, by.stripping * (static_cast<double>(stripping_charges.count) * litres(stripping.pot)))
        .expect(batch_place::low_wines, predicted.low_wines_pure_alcohol_l)
        .expect(batch_place::fore_shots, of_label(cut_label::fore_shots))
        .expect(batch_place::heads, of_label(cut_label::heads))
        .expect(batch_place::tails, of_label(cut_label::tails))
        .expect(batch_place::spirit_pot, by.spirit * litres(left))
        .expect(batch_place::hearts, predicted.hearts_pure_alcohol_l)
        .expect(batch_place::bottles, by.spirit * in_full)
        .expect(batch_place::rest, by.spirit * (bottled_l - in_full > 0.0 ? bottled_l - in_full : 0.0));
    return book;
}

/// A plan with something changed.
///   change   callable PlanRequest& -> anything
/// Throws as plan.
template <class Change>
Plan what_if(PlanRequest request, const Change& change) {
    change(request);
    return plan(request);
}

// ---- on paper ----

namespace detail {

/// Text in lines of a width.
class plan_sheet {
public:
    static constexpr std::size_t width = 100;

    void title(const std::string_view text) {
        if (!text_.empty()) text_ += '\n';
        wrapped(text, 0);
    }

    /// Words wrapped at the width, a longer word broken; lines after the first as far in as the first.
    void wrapped(const std::string_view words, const std::size_t indent) {
        std::string line(indent, ' ');
        const auto flush = [&] {
            text_.append(line).append("\n");
            line.assign(indent, ' ');
        };
        std::size_t at = 0;
        while (at < words.size()) {
            const std::size_t space = std::min(words.find_first_of(" \n\t\r", at), words.size());
            std::string_view word = words.substr(at, space - at);
            at = space + 1;
            if (word.empty()) continue;
            const bool fresh = line.size() == indent;
            if (!fresh && line.size() + 1 + word.size() > width) flush();
            if (line.size() > indent) line += ' ';
            while (line.size() + word.size() > width) {
                const std::size_t cut = whole_characters(word, width - line.size());
                line.append(word.substr(0, cut));
                word.remove_prefix(cut);
                flush();
            }
            line.append(word);
        }
        if (line.size() > indent) flush();
    }

    void row(const std::string_view what, const double x, const std::string_view unit) { labelled(what, number(x) + " " + std::string(unit)); }
    void row(const std::string_view what, const Uncertain& x, const std::string_view unit) {
        const int places = decimals(x.standard_uncertainty(), digits_of_doubt);
        labelled(what, fixed(x.value(), places) + " +/- " + fixed(x.standard_uncertainty(), places) + " " + std::string(unit));
    }
    void labelled(const std::string_view what, const std::string& value) {
        constexpr std::size_t column = 44;
        std::string line("  ");
        line.append(what);
        line.append(line.size() < column ? column - line.size() : 1, ' ');
        wrapped_line(line + value);
    }
    void cells(const std::string_view what, const std::vector<std::string>& values) {
        constexpr std::size_t first = 34;
        constexpr std::size_t each = 13;
        std::string line("  ");
        line.append(what);
        line.append(line.size() < first ? first - line.size() : 1, ' ');
        for (const std::string& v : values) line.append(v.size() < each ? each - v.size() : 1, ' ').append(v);
        wrapped_line(line);
    }

    /// Four digits, never an exponent.
    static std::string number(const double x) { return fixed(x, decimals(x, digits)); }

    [[nodiscard]] const std::string& text() const { return text_; }

private:
    static constexpr int digits = 4;
    static constexpr int digits_of_doubt = 2;

    /// Decimals that show so many digits; what is less than a ten-thousandth matters nowhere on this sheet.
    static int decimals(const double x, const int shown) {
        constexpr double smallest = 1e-4;
        constexpr int most = 6;
        const double half_a_digit = 0.5 * std::pow(10.0, -shown);
        const double size = std::abs(x) * (1.0 + half_a_digit);  // 9.9996 is shown as 10.00
        if (!(size > smallest)) return 0;
        return std::clamp(shown - 1 - static_cast<int>(std::floor(std::log10(size))), 0, most);
    }
    static std::string fixed(const double x, const int places) {
        constexpr std::size_t longest = 400;  // the largest double in full
        char text[longest];
        std::snprintf(text, sizeof text, "%.*f", places, x);
        return text;
    }
    /// At most n bytes of a word, and no character of it cut in two.
    static std::size_t whole_characters(const std::string_view word, std::size_t n) {
        constexpr unsigned char mask = 0xC0;
        constexpr unsigned char continued = 0x80;
        const std::size_t most = n;
        while (n > 1 && n < word.size() && (static_cast<unsigned char>(word[n]) & mask) == continued) --n;
        return n > 1 ? n : most;
    }
    void wrapped_line(std::string line) {
        line.erase(line.find_last_not_of(' ') + 1);
        if (line.size() <= width) {
            text_.append(line).append("\n");
        } else {
            wrapped(line, 2);
        }
    }

    std::string text_;
};

inline std::string told_percent(const double share) {
    return plan_sheet::number(percent * share);
}

}  // namespace detail

inline std::string Plan::sheet() const {
    using detail::percent;
    detail::plan_sheet s;
    const auto vol = [&](const std::string_view what, const double x) { s.row(what, percent * x, "% vol"); };
    const auto liquid = [&](const std::string_view what, const StillLiquid& x) {
        s.cells(what, {s.number(x.mass_kg) + " kg", s.number(x.volume_l()) + " L", x.mass_kg > 0.0 ? s.number(percent * x.abv()) + " %vol" : "-",
                       s.number(x.pure_alcohol_l()) + " LPA"});
    };
    const auto count = [](const std::size_t n) { return std::to_string(n); };

    s.title("PLAN OF A BATCH, at 20 degC. LPA: litres of pure alcohol; +/-: one standard uncertainty");
    s.title("Grain and water");
    for (const BillItem& item : request.bill.items()) s.labelled(item.grain.name, s.number(item.weight.value()) + " kg");
    s.row("water", request.water_kg, "kg");
    s.row("room the mash takes", water.mash_volume_l, "L");
    s.row("vessel, at least", water.vessel_volume_l, "L");
    s.row("potential gravity", potential.expected.original_gravity, "SG 20/20");
    s.row("pure alcohol, all converted", potential.theoretical.pure_alcohol_l, "L");

    s.title("Fermentation, when it has ended");
    s.row("strength", Uncertain(percent) * end_point.abv, "% vol");
    s.row("gravity", end_point.gravity, "SG 20/20");
    s.row("carbon dioxide", end_point.co2_kg, "kg");
    s.row("pure alcohol", end_point.pure_alcohol_l, "L");
    liquid("strained wash", strained);
    liquid("kept by the grain", in_grain);

    s.title("Stripping: " + count(stripping_charges.count) + " charge(s)");
    liquid("one charge", stripping_charges.charge);
    if (stripping_charges.reserve.mass_kg > 0.0) liquid("recycled in it", stripping_charges.reserve);
    s.row("boiler left empty", percent * stripping_charges.head_space_share, "%");
    s.row("pot at the first drop", stripping.boiling_start_c, "degC");
    s.row("pot at the last drop", stripping.boiling_end_c, "degC");
    vol("coming over at the last drop", stripping.curve.back().distillate_abv);
    s.row("time of one charge", stripping_duty.total_h, "h");
    s.row("cooling water, most", stripping_duty.water_peak_l_per_h, "L/h");
    liquid("low wines of one charge", stripping.low_wines);
    liquid("low wines, all", low_wines);

    s.title("Spirit run: " + count(spirit_charges.count) + " charge(s), " + std::to_string(plates) + " theoretical plate(s)");
    if (request.recycled.into == recycle_into::low_wines && recycled.mass_kg > 0.0) liquid("recycled heads and tails", recycled);
    s.row("water to add, all charges", spirit_water_kg, "kg");
    s.row("the same", spirit_water_l, "L at " + s.number(request.spirit.dilution_water_c) + " degC");
    liquid("one charge", spirit_charges.charge);
    s.row("boiler left empty", percent * spirit_charges.head_space_share, "%");
    s.row("head at the first drop", spirit_run.points.front().head_c, "degC");
    s.row("head at the last drop", spirit_run.points.back().head_c, "degC");
    s.labelled("the run ends when", std::string(to_string(spirit_run.reason)));
    s.row("time of one charge", spirit_duty.total_h, "h");
    s.row("cooling water, most", spirit_duty.water_peak_l_per_h, "L/h");

    s.title("Cuts: from and to how many litres of one charge; then what all charges give");
    s.cells("", {"from L", "to L", "from %vol", "to %vol", "% of alcohol"});
    for (const PlanFraction& f : fractions) {
        s.cells(detail::spoken(f.label), {s.number(f.from_l), s.number(f.to_l), detail::told_percent(f.from_abv), detail::told_percent(f.to_abv),
                                          detail::told_percent(f.alcohol_share)});
    }
    for (const PlanFraction& f : fractions) liquid(detail::spoken(f.label), f.content);
    liquid("left in the still", left);
    if (windows) s.wrapped(windows_note, 2);

    s.title("Bottling");
    s.row("water to add", dilution.water.value(), "kg");
    s.row("the same", value_in(dilution.water_volume, litre), "L at " + s.number(request.bottling.water_c) + " degC");
    s.row("volume", value_in(dilution.volume_at_20c, litre), "L");
    vol("strength", request.bottling.target_abv);
    s.labelled("full bottles", std::to_string(bottling.full) + " of " + s.number(request.bottling.bottle_l) + " L");
    s.row("fill each with", value_in(bottling.fill_volume, litre), "L at " + s.number(request.bottling.fill_c) + " degC");
    s.row("rest", value_in(bottling.rest_at_20c, litre), "L");

    s.title("Heat, time, cooling water: " + count(totals.charges) + " charges");
    s.row("energy", totals.energy_kwh, "kWh");
    s.row("per litre of pure alcohol in hearts", totals.energy_kwh_per_pure_alcohol_l, "kWh/L");
    s.row("hours of heating", totals.running_h, "h");
    s.row("hours between charges", totals.turnaround_h, "h");
    s.row("cooling water", totals.water_l, "L");

    s.title("Where it goes");
    const auto flows = [&](const std::vector<PlanFlow>& list) {
        for (const PlanFlow& f : list) {
            s.cells(f.what, {s.number(f.mass_kg) + " kg", s.number(f.ethanol_kg * litres_per_cubic_metre / volume_at_20c::ethanol_density) + " LPA"});
        }
    };
    flows(in);
    s.cells("becomes", {});
    flows(out);

    s.title("How sure (doubt of grain, conversion and yeast, in proportion to the alcohol)");
    s.row("pure alcohol in the wash", predicted.wash_pure_alcohol_l, "L");
    s.row("low wines", predicted.low_wines_l, "L");
    s.row("hearts", predicted.hearts_l, "L");
    s.row("bottled", predicted.bottled_l, "L");
    s.row("bottles", predicted.bottles, "");

    s.title("Cautions");
    s.wrapped(cautions, 2);
    return s.text();
}

}  // namespace ferment
