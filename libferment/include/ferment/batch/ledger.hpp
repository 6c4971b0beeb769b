#pragma once
// Where each litre of pure alcohol of a batch went: from what the grain could give to what is in the bottles, and every place on the way that
// kept some of it.
//
// Litres of pure alcohol are a mass in disguise (litres of ethanol at 20 degC), so they may be added; litres of spirit never are.
//
// Rejected: sharing a difference out among the places that might have it (a guess dressed as a figure: it stays one remainder, which names them);
// hiding a negative remainder as zero (it is the most useful line of the sheet); refusing a measurement that contradicts another (which of the two is
// wrong is not known here).

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdio>
#include <cstdlib>
#include <ferment/core/error.hpp>
#include <ferment/core/source.hpp>
#include <ferment/core/uncertain.hpp>
#include <ferment/fermentation/end_point.hpp>
#include <ferment/liquid/wash.hpp>
#include <ferment/mash/potential.hpp>
#include <ferment/mash/water.hpp>
#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <tuple>
#include <utility>
#include <vector>

namespace ferment {

/// Where alcohol of a batch can be. The first six are the stages, in their order; each of the others is filled on the way to one of them.
enum class batch_place {
    potential,      ///< theoretical: all starch and sugar made into alcohol
    wash,           ///< fermented, with the grain in it
    off_the_grain,  ///< the free liquid, as it goes into the still
    low_wines,      ///< stripped, all stripping runs together
    hearts,         ///< of the spirit run
    bottles,        ///< full bottles
    kept_by_grain,  ///< in the wet spent grain, on the way off it
    stripping_pot,  ///< left in the pot, on the way to the low wines
    spirit_pot,     ///< left in the pot, on the way to the hearts
    fore_shots,     ///< thrown away
    heads,
    tails,
    rest,  ///< not enough for a bottle
};

/// What a line of the ledger is. `start` and `came_in` are sources, `stage` is what passes on, the others are ends.
///   lost        spent grain, pots, fore-shots
///   set_aside   heads, tails, rest of the bottling
///   taken_out   out of this batch: recycled to another run, samples, sold
///   remainder   the difference between two stages that no recorded place explains
///   in_hand     what the last recorded stage still holds
enum class ledger_line { start, came_in, stage, lost, set_aside, taken_out, remainder, in_hand };

/// What a figure rests on. `difference`: of the others.
enum class ledger_basis { theoretical, expected, measured, difference };

/// What is wrong with the entries.
///   impossible            measurements (or the theoretical start) contradict each other
///   against_expectation   an expected figure takes part; it may be the expectation that is wrong
enum class ledger_conflict { impossible, against_expectation };

namespace detail {

/// A place: its names, the stage on whose way it lies, and what a line about it is.
struct batch_place_facts {
    batch_place place;
    std::string_view key;     ///< in data
    std::string_view name;    ///< on the sheet
    std::string_view reason;  ///< how a remainder calls it where it was not recorded
    std::size_t step;         ///< index of the stage
    ledger_line line;
};

inline constexpr std::size_t batch_stages = 6;
inline constexpr std::array<batch_place_facts, 13> batch_places{{
    {batch_place::potential, "potential", "potential of the grain", "", 0, ledger_line::start},
    {batch_place::wash, "wash", "in the wash", "", 1, ledger_line::stage},
    {batch_place::off_the_grain, "off_the_grain", "off the grain", "", 2, ledger_line::stage},
    {batch_place::low_wines, "low_wines", "low wines", "", 3, ledger_line::stage},
    {batch_place::hearts, "hearts", "hearts", "", 4, ledger_line::stage},
    {batch_place::bottles, "bottles", "bottles", "", 5, ledger_line::stage},
    {batch_place::kept_by_grain, "kept_by_grain", "kept by the grain", "kept by the grain", 2, ledger_line::lost},
    {batch_place::stripping_pot, "stripping_pot", "left in the stripping pot", "left in the stripping pot", 3, ledger_line::lost},
    {batch_place::spirit_pot, "spirit_pot", "left in the spirit pot", "left in the spirit pot", 4, ledger_line::lost},
    {batch_place::fore_shots, "fore_shots", "fore-shots, thrown away", "fore-shots", 4, ledger_line::lost},
    {batch_place::heads, "heads", "heads", "heads", 4, ledger_line::set_aside},
    {batch_place::tails, "tails", "tails", "tails", 4, ledger_line::set_aside},
    {batch_place::rest, "rest", "rest of the bottling", "rest of the bottling", 5, ledger_line::set_aside},
}};
inline constexpr std::string_view not_converted = "not converted, other products";
inline constexpr std::string_view spilled = "spilled or evaporated";
inline constexpr std::string_view not_explained = "spilled, evaporated or not explained";

constexpr const batch_place_facts& facts_of(const batch_place place) {
    return batch_places[static_cast<std::size_t>(place)];
}

/// A finite number of litres, zero or more, with a finite doubt.
inline void require_litres(const std::string& what, const Uncertain& litres) {
    const double u = litres.standard_uncertainty();
    if (!std::isfinite(litres.value())) {
        throw InputError(what + " is " + (std::isnan(litres.value()) ? "not a number" : "infinite") + "; it must be zero or more L of pure alcohol at 20 degC");
    }
    if (!std::isfinite(u)) throw InputError("standard uncertainty of " + what + " must be a finite number of L");
    require_inside(what, litres.value(), "L", {-std::numeric_limits<double>::infinity(), workable_amount.upper}, "amounts that can be reckoned with");
    if (litres.value() < 0.0) throw RangeError(what + " " + format_quantity(litres.value(), "L") + " must be zero or more L of pure alcohol at 20 degC");
}

}  // namespace detail

/// The name of a place in data: "off_the_grain".
constexpr std::string_view to_string(const batch_place place) {
    return detail::facts_of(place).key;
}

/// The place of this name. Throws InputError naming the known ones.
inline batch_place batch_place_from(const std::string_view name) {
    std::string known;
    for (const detail::batch_place_facts& facts : detail::batch_places) {
        if (facts.key == name) return facts.place;
        known.append(known.empty() ? "" : ", ").append(facts.key);
    }
    throw InputError("place of a batch " + in_quotes(name) + " is not known; known are " + known);
}

constexpr std::string_view to_string(const ledger_line line) {
    switch (line) {
        case ledger_line::start: return "start";
        case ledger_line::came_in: return "came_in";
        case ledger_line::stage: return "stage";
        case ledger_line::lost: return "lost";
        case ledger_line::set_aside: return "set_aside";
        case ledger_line::taken_out: return "taken_out";
        case ledger_line::remainder: return "remainder";
        case ledger_line::in_hand: return "in_hand";
    }
    return "unknown";
}

constexpr std::string_view to_string(const ledger_basis basis) {
    switch (basis) {
        case ledger_basis::theoretical: return "theoretical";
        case ledger_basis::expected: return "expected";
        case ledger_basis::measured: return "measured";
        case ledger_basis::difference: return "difference";
    }
    return "unknown";
}

constexpr std::string_view to_string(const ledger_conflict conflict) {
    switch (conflict) {
        case ledger_conflict::impossible: return "impossible";
        case ledger_conflict::against_expectation: return "against_expectation";
    }
    return "unknown";
}

/// A liquid as it was measured.
struct LiquidReading {
    measured volume_l;            ///< L at temperature_c, > 0
    measured abv;                 ///< true strength at 20 degC, fraction by volume, 0 to 1
    double temperature_c = 20.0;  ///< when the volume was read, 0 to 40 degC
    double extract = 0.0;         ///< real extract of a wash, mass fraction; 0 for spirit
};

/// Pure alcohol in a liquid, L at 20 degC, with the doubt of volume and strength.
///   reading   see LiquidReading
///   name      how errors and budgets call it
/// Throws InputError for what is no finite number, RangeError outside the ranges. The expansion to 20 degC is taken at the stated strength: what its
/// doubt adds is of second order. Source: wash, oiml_r22.
inline Uncertain pure_alcohol_of(const LiquidReading& reading, const std::string& name) {
    const auto finite = [&](const std::string& what, const double x, const char* unit) {
        if (!std::isfinite(x)) {
            throw InputError(what + " of " + name + " is " + (std::isnan(x) ? "not a number" : "infinite") + "; it must be a finite number of " + unit);
        }
    };
    const auto doubt = [&](const std::string& what, const double u, const char* unit) {
        finite("standard uncertainty of the " + what, u, unit);
        if (u < 0.0) throw RangeError("standard uncertainty of the " + what + " of " + name + " " + format_quantity(u, unit) + " must be zero or more");
    };
    finite("volume", reading.volume_l.value, "L");
    finite("strength", reading.abv.value, "% vol");
    finite("temperature", reading.temperature_c, "degC");
    finite("extract", reading.extract, "% mass");
    doubt("volume", reading.volume_l.standard_uncertainty, "L");
    doubt("strength", detail::percent * reading.abv.standard_uncertainty, "% vol");
    if (reading.volume_l.value <= 0.0) {
        throw RangeError("volume of " + name + " " + format_quantity(reading.volume_l.value, "L") + " must be a number above 0 L");
    }
    detail::require_fraction("extract of " + name, reading.extract, "% mass", icumsa_sps4::extract_range, wash::from);
    detail::require_fraction("strength of " + name, reading.abv.value, "% vol", {0.0, wash::strongest(reading.extract)}, wash::from);
    require_inside("temperature of " + name, reading.temperature_c, "degC", wash::t_range, wash::from);
    const double w = wash::abw_from_abv(reading.abv.value, reading.extract);
    const double to_20c =
        wash::density(w, reading.extract, reading.temperature_c) / wash::density(w, reading.extract, static_cast<double>(oiml_r22::reference_c));
    return to_20c * reading.volume_l.as_input("volume of " + name) * reading.abv.as_input("strength of " + name);
}

/// An alcohol yield as it was printed.
struct published_alcohol_yield {
    std::string_view material;
    std::string_view process;
    double litres_per_tonne;  ///< of dry matter
};

inline constexpr source published_alcohol_yields{
    "published_alcohol_yields",
    "litres of pure alcohol per tonne of dry grain, in the fermented mash",
    "Thomas and Ingledew 1995, J. Ind. Microbiol. 15:125-130 (oats); Smith et al. 2006, HGCA Research Review 61 (wheat); Nghiem et al. 2010, Biotechnol. "
    "Biofuels 3:8 (barley); PLoS ONE 2011, 6(7):e22113, table 1 (maize); abstracts but for the last",
    "cooked mashes with enzymes, laboratory, or a benchmark of the industry; nothing distilled",
    "as printed; 1 to 4 L/t where a spread is given, between works far more",
};

/// The yields that a batch is put beside, all per tonne of dry matter.
inline constexpr std::array<published_alcohol_yield, 7> published_alcohol_yield_rows{{
    {"Oats, hulless", "cooked, enzymes, very high gravity, 20 degC", 353.2},
    {"Oats, hulled", "cooked, enzymes, very high gravity, 20 degC", 317.6},
    {"Wheat, UK feed", "benchmark for current fuel-alcohol production", 435.0},
    {"Barley, winter, high starch", "cooked, with beta-glucanase and beta-glucosidase, 30 % solids", 402.0},
    {"Maize", "fermentation, literature value 1", 372.0},
    {"Maize", "fermentation, literature value 2", 396.0},
    {"Maize", "fermentation, literature value 3", 402.0},
}};

/// Where a ledger starts.
struct LedgerStart {
    Uncertain pure_alcohol_l;  ///< L at 20 degC, theoretical, > 0
    double grain_kg;           ///< as weighed, > 0
    Uncertain dry_grain_kg;    ///< dry matter in it, > 0, not above grain_kg
};

/// One line. The shares are fractions of the theoretical potential.
struct LedgerRow {
    ledger_line line;
    batch_place place;  ///< of a remainder: the stage after it; of what came in: the stage it joined
    std::string name;
    Uncertain litres;  ///< of pure alcohol at 20 degC
    Uncertain share;
    ledger_basis basis;
    std::optional<Uncertain> expected;  ///< what had been expected where the figure is a measurement, or the difference of two
    std::string note;
};

/// Two entries that do not go together.
struct LedgerFinding {
    ledger_conflict conflict;
    batch_place before;
    batch_place after;              ///< the same as before where more was taken out of a place than it held
    Uncertain excess_l;             ///< more than there can be
    double standard_uncertainties;  ///< excess over its combined standard uncertainty; infinite where there is no doubt
    std::string message;
};

/// Sources and ends. They agree by construction; `difference` shows the round-off.
struct LedgerBalance {
    Uncertain start_l;
    Uncertain came_in_l;
    Uncertain ended_l;
    Uncertain difference_l;  ///< ended - start - came in
};

/// Alcohol that this batch's grain gave, up to a stage.
struct LedgerYield {
    batch_place place{};
    ledger_basis basis{};
    Uncertain litres;                        ///< in the stage - what had come in + what had been taken out before it
    Uncertain litres_per_tonne;              ///< grain as weighed
    Uncertain litres_per_tonne_dry;          ///< dry matter
    Uncertain share_of_theoretical;          ///< fraction
    std::optional<Uncertain> of_expected{};  ///< fraction of what had been expected in the stage; nothing where nothing had been, or it is not measured
};

/// The ledger of one batch. A value: copies are independent books. What it tells does not depend on the order in which entries were made.
///
/// Stages that were not recorded are skipped: their losses go to the next stage that was, in one remainder. An expected figure stands until a
/// measurement takes its place. After a measured stage, later expectations keep the share of that stage they were made with, not their litres. An
/// expected side place (what a pot or the grain will keep) counts only until the stage after it is measured; from then on the difference tells.
class Ledger {
public:
    static constexpr double default_coverage = 2.0;  ///< standard uncertainties beyond which an entry is impossible

    /// Throws InputError for what is no finite number, RangeError for what is not above zero, or more dry matter than grain.
    explicit Ledger(const LedgerStart& start) : start_(start) {
        detail::require_litres("potential of the grain", start.pure_alcohol_l);
        const auto positive = [](const char* what, const double x, const char* unit) {
            if (!std::isfinite(x)) throw InputError(std::string(what) + " must be a finite number of " + unit + " above zero");
            if (x <= 0.0) throw RangeError(std::string(what) + " " + format_quantity(x, unit) + " must be above 0 " + unit);
        };
        positive("potential of the grain", start.pure_alcohol_l.value(), "L");
        positive("mass of grain", start.grain_kg, "kg");
        positive("dry matter of the grain", start.dry_grain_kg.value(), "kg");
        if (!std::isfinite(start.dry_grain_kg.standard_uncertainty())) {
            throw InputError("standard uncertainty of the dry matter of the grain must be a finite number of kg");
        }
        if (start.dry_grain_kg.value() > start.grain_kg) {
            throw RangeError("dry matter of the grain " + format_quantity(start.dry_grain_kg.value(), "kg") + " is more than the grain, " +
                             format_quantity(start.grain_kg, "kg"));
        }
        entries_[index(batch_place::potential)] = {start.pure_alcohol_l, std::nullopt, "", ""};
    }

    /// From what the grain can give; the wash is expected as `of` expects it. The doubts of both are correlated.
    explicit Ledger(const Potential& of) : Ledger(LedgerStart{of.theoretical.pure_alcohol_l, of.grain_kg, of.grain_kg - of.masses.moisture}) {
        expect(batch_place::wash, of.expected.pure_alcohol_l, "expected conversion and efficiency");
    }

    /// The same, with what the grain will keep: its liquid is as strong as the free liquid.
    Ledger(const Potential& of, const WaterBalance& water) : Ledger(of) {
        expect(batch_place::off_the_grain, of.expected.pure_alcohol_l * water.free_share, "water balance");
    }

    /// An expected content. A later expectation of the same place replaces it; a measurement stands above it whichever was entered first.
    ///   litres   pure alcohol at 20 degC, zero or more
    /// Throws InputError for the potential or what is no finite number, RangeError for a negative figure.
    Ledger& expect(const batch_place place, const Uncertain& litres, const std::string& note = "") {
        require_enterable(place, "expected");
        detail::require_litres("expected " + named(place), litres);
        entry& e = entries_[index(place)];
        e.expected = litres;
        e.expected_note = note;
        return *this;
    }

    /// A measured content: all of it, several vessels or runs added up. Throws as expect, and InputError for a place measured already: forget() it first.
    Ledger& measure(const batch_place place, const Uncertain& litres, const std::string& note = "") {
        require_enterable(place, "measured");
        detail::require_litres("measured " + named(place), litres);
        entry& e = entries_[index(place)];
        if (e.measured) {
            throw InputError(named(place) + " is measured already (" + format_quantity(e.measured->value(), "L") + "); forget that measurement before " +
                             format_quantity(litres.value(), "L") + " is entered");
        }
        e.measured = litres;
        e.measured_note = note;
        return *this;
    }

    /// The same from litres with their standard uncertainty, independent of every other entry.
    Ledger& measure(const batch_place place, const measured& litres, const std::string& note = "") {
        if (litres.standard_uncertainty < 0.0 || !std::isfinite(litres.standard_uncertainty)) {
            throw InputError("standard uncertainty of " + named(place) + " " + format_quantity(litres.standard_uncertainty, "L") +
                             " must be a finite number, zero or more");
        }
        return measure(place, litres.as_input(named(place)), note);
    }

    /// The same from volume and strength. Throws as pure_alcohol_of, too.
    Ledger& measure(const batch_place place, const LiquidReading& reading, const std::string& note = "") {
        return measure(place, pure_alcohol_of(reading, named(place)), note);
    }

    /// Takes the measurement of a place back; an expectation stands again.
    Ledger& forget(const batch_place place) {
        require_enterable(place, "forgotten");
        entry& e = entries_[index(place)];
        e.measured.reset();
        e.measured_note.clear();
        return *this;
    }

    /// Alcohol from outside that joins the batch on the way to a stage: tails of an earlier run, poured into the spirit charge, join hearts. Entries add up.
    /// Throws InputError for a place that is no stage after the potential, and as expect.
    Ledger& bring_in(const batch_place stage, const Uncertain& litres, const std::string& note = "") {
        if (stage == batch_place::potential || index(stage) >= detail::batch_stages) {
            throw InputError("alcohol comes in on the way to wash, off_the_grain, low_wines, hearts or bottles, not to " + std::string(to_string(stage)));
        }
        detail::require_litres("brought in for " + std::string(to_string(stage)), litres);
        insert_sorted(came_in_, {stage, litres, note});
        return *this;
    }

    /// Alcohol taken out of a place and out of this batch: recycled to another run, samples, sold. It is part of what the place held. Entries add up.
    /// Throws InputError for the potential, and as expect.
    Ledger& take_out(const batch_place place, const Uncertain& litres, const std::string& note = "") {
        require_enterable(place, "taken out");
        detail::require_litres("taken out of " + std::string(to_string(place)), litres);
        insert_sorted(taken_out_, {place, litres, note});
        return *this;
    }

    /// What a place held before anything was taken out of it, and what that rests on; nothing where it was neither measured nor expected.
    [[nodiscard]] std::optional<Uncertain> content(const batch_place place) const {
        const entry& e = entries_[index(place)];
        return e.measured ? e.measured : foretold(place);
    }
    [[nodiscard]] bool is_measured(const batch_place place) const { return place != batch_place::potential && entries_[index(place)].measured.has_value(); }

    /// Every line, from the grain to the bottles; ahead of each stage what came in and what it lost.
    [[nodiscard]] std::vector<LedgerRow> rows() const {
        std::vector<LedgerRow> list;
        list.push_back(row(ledger_line::start, batch_place::potential, "potential of the grain", start_.pure_alcohol_l, ledger_basis::theoretical));
        std::size_t from = 0;
        while (from < detail::batch_stages) {
            const std::size_t to = next_known(from);
            add_step(list, from, to);
            from = to;
        }
        return list;
    }

    /// The rows where alcohol ended: lost, set aside, taken out, not explained, in hand.
    [[nodiscard]] std::vector<LedgerRow> ends() const {
        return only([](const LedgerRow& r) { return is_end(r.line); });
    }

    /// The rows of what did not reach the next stage: the ends but for what is in hand or set aside.
    [[nodiscard]] std::vector<LedgerRow> losses() const {
        return only([](const LedgerRow& r) { return r.line == ledger_line::lost || r.line == ledger_line::taken_out || r.line == ledger_line::remainder; });
    }

    [[nodiscard]] LedgerBalance balance() const {
        LedgerBalance b;
        b.start_l = start_.pure_alcohol_l;
        for (const movement& m : came_in_) b.came_in_l += m.litres;
        for (const LedgerRow& r : ends()) b.ended_l += r.litres;
        b.difference_l = b.ended_l - b.start_l - b.came_in_l;
        return b;
    }

    /// Entries with more alcohol after than before, or more taken out than there was, by more than `coverage` combined standard uncertainties.
    /// Measured stages are compared with every measured stage before them, so that an expectation between them hides nothing; of nested pairs only the
    /// narrowest is reported. Expected figures are compared with their neighbours. Throws RangeError for a coverage that is no finite number, zero or more.
    [[nodiscard]] std::vector<LedgerFinding> findings(const double coverage = default_coverage) const {
        if (!(coverage >= 0.0) || std::isinf(coverage)) {
            throw RangeError("coverage " + format_number(coverage) + " must be a finite number of standard uncertainties, zero or more");
        }
        std::vector<LedgerFinding> list;
        for (const detail::batch_place_facts& f : detail::batch_places) {
            const std::optional<Uncertain> held = content(f.place);
            if (index(f.place) < detail::batch_stages || !held) continue;  // stages follow below
            report(list, is_hard(f.place), f.place, f.place, taken_out(f.place), *held, coverage);
        }
        std::vector<std::array<std::size_t, 2>> reported;
        for (std::size_t width = 1; width <= detail::batch_stages; ++width) {
            for (std::size_t from = 0; from + width <= detail::batch_stages; ++from) {
                const std::size_t to = from + width;
                const bool nested = std::any_of(reported.begin(), reported.end(), [&](const auto& r) { return from <= r[0] && r[1] <= to; });
                if (nested || !is_hard(stage(from)) || (to < detail::batch_stages && !is_hard(stage(to)))) continue;
                if (report(list, true, stage(from), end_of(from, to), after(from, to, true), before(from, to), coverage)) reported.push_back({from, to});
            }
        }
        for (std::size_t from = 0; from < detail::batch_stages;) {
            const std::size_t to = next_known(from);
            const bool nested = std::any_of(reported.begin(), reported.end(), [&](const auto& r) { return from <= r[0] && r[1] <= to; });
            if (!nested && !all_hard(from, to)) report(list, false, stage(from), end_of(from, to), after(from, to, false), before(from, to), coverage);
            from = to;
        }
        return list;
    }

    /// What the grain gave up to a stage. What came in is not its merit and is taken off; what had been taken out before (recycled to another run) is
    /// given back, so that a still that recycles evenly shows its true yield.
    ///   place   a stage that is known
    /// Throws InputError for a place that is no stage, or is not known.
    [[nodiscard]] LedgerYield yield_at(const batch_place place) const {
        if (index(place) >= detail::batch_stages)
            throw InputError("yields are those of the stages, potential to bottles, not of " + std::string(to_string(place)));
        const std::optional<Uncertain> held = content(place);
        if (!held) throw InputError("yield: " + named(place) + " is neither measured nor expected");
        const std::size_t step = index(place);
        const auto own = [&](const Uncertain& litres) {
            Uncertain sum = litres - came_in(0, step);
            for (const movement& m : taken_out_) {
                const std::size_t at = detail::facts_of(m.place).step;
                if (at < step || (at == step && m.place != place)) sum += m.litres;
            }
            return sum;
        };
        LedgerYield y;
        y.place = place;
        y.basis = basis_of(place);
        y.litres = own(*held);
        y.litres_per_tonne = y.litres * kilograms_per_tonne / start_.grain_kg;
        y.litres_per_tonne_dry = y.litres * kilograms_per_tonne / start_.dry_grain_kg;
        y.share_of_theoretical = y.litres / start_.pure_alcohol_l;
        const std::optional<Uncertain>& expected = entries_[step].expected;
        if (is_measured(place) && expected && own(*expected).value() > 0.0) y.of_expected = y.litres / own(*expected);
        return y;
    }

    /// The yields of all known stages.
    [[nodiscard]] std::vector<LedgerYield> yields() const {
        std::vector<LedgerYield> list;
        for (std::size_t k = 0; k < detail::batch_stages; ++k) {
            if (content(stage(k))) list.push_back(yield_at(stage(k)));
        }
        return list;
    }

    /// Everything as a table to print. Litres to 1 mL, shares to 0.1 %; +/- is one standard uncertainty.
    [[nodiscard]] std::string sheet(const double coverage = default_coverage) const {
        std::string text = "Pure alcohol, L at 20 degC; +/- one standard uncertainty; share of the potential\n\n";
        text += "         L      +/-        %\n";
        for (const LedgerRow& r : rows()) {
            text += figures(r.litres) + share_figures(r.share) + (r.line == ledger_line::start || r.line == ledger_line::stage ? "  " : "    ");
            if (r.line == ledger_line::came_in) text += "came in: ";
            if (r.line == ledger_line::taken_out) text += "taken out: ";
            text += r.name + " [" + std::string(to_string(r.basis)) + "]";
            if (r.expected) text += ", expected " + print("%.3f", r.expected->value()) + " L";
            if (!r.note.empty()) text += ", " + r.note;
            text += "\n";
        }
        const LedgerBalance b = balance();
        const auto sum = [&](const Uncertain& litres, const char* name) {
            text += figures(litres) + share_figures(litres / start_.pure_alcohol_l) + "  " + name + "\n";
        };
        text += "\n";
        sum(b.start_l, "start");
        sum(b.came_in_l, "came in");
        sum(b.start_l + b.came_in_l, "sum of the sources");
        for (const ledger_line line : {ledger_line::lost, ledger_line::set_aside, ledger_line::taken_out, ledger_line::remainder, ledger_line::in_hand}) {
            Uncertain total;
            for (const LedgerRow& r : ends()) {
                if (r.line == line) total += r.litres;
            }
            sum(total, line_name(line));
        }
        sum(b.ended_l, "sum of the ends");

        text +=
            "\nYield of the grain, without what came in, with what was taken out before; L per tonne\n  as weighed      +/-      dry      +/-  % theor.  % "
            "expect.\n";
        for (const LedgerYield& y : yields()) {
            text += print("%12.1f", y.litres_per_tonne.value()) + print("%9.1f", y.litres_per_tonne.standard_uncertainty()) +
                    print("%9.1f", y.litres_per_tonne_dry.value()) + print("%9.1f", y.litres_per_tonne_dry.standard_uncertainty()) +
                    print("%10.1f", detail::percent * y.share_of_theoretical.value()) +
                    (y.of_expected ? print("%11.1f", detail::percent * y.of_expected->value()) : "          -") + "  " + named(y.place) + " [" +
                    std::string(to_string(y.basis)) + "]\n";
        }
        const measured published = no_cook::overall();
        text += "Published, no-cook washes: " + print("%.1f", detail::percent * published.value) + " % of theoretical, spread " +
                print("%.1f", detail::percent * published.standard_uncertainty) + "\nPublished, dry grain in the wash, L per tonne:\n";
        for (const published_alcohol_yield& p : published_alcohol_yield_rows) {
            text += print("%9.1f", p.litres_per_tonne) + "  " + std::string(p.material) + " (" + std::string(p.process) + ")\n";
        }
        text += "\nFindings\n";
        const std::vector<LedgerFinding> found = findings(coverage);
        for (const LedgerFinding& f : found) text += "  " + f.message + "\n";
        if (found.empty()) text += "  none\n";
        return text;
    }

private:
    struct entry {
        std::optional<Uncertain> expected;
        std::optional<Uncertain> measured;
        std::string expected_note;
        std::string measured_note;
    };
    struct movement {
        batch_place place;
        Uncertain litres;
        std::string note;
    };

    static constexpr std::size_t index(const batch_place place) { return static_cast<std::size_t>(place); }
    static constexpr batch_place stage(const std::size_t k) { return static_cast<batch_place>(k); }
    static constexpr batch_place end_of(const std::size_t from, const std::size_t to) { return stage(to < detail::batch_stages ? to : from); }
    static constexpr bool is_end(const ledger_line line) { return line != ledger_line::start && line != ledger_line::came_in && line != ledger_line::stage; }
    static std::string named(const batch_place place) { return std::string(detail::facts_of(place).name); }

    static void require_enterable(const batch_place place, const char* what) {
        if (place == batch_place::potential) throw InputError(std::string("the potential of the grain is where the ledger starts; it cannot be ") + what);
    }

    /// Kept in an order of its own, so that the order of recording leaves no trace.
    static void insert_sorted(std::vector<movement>& list, const movement& m) {
        const auto key = [](const movement& x) { return std::make_tuple(index(x.place), std::string_view(x.note), x.litres.value()); };
        list.insert(std::upper_bound(list.begin(), list.end(), m, [&](const movement& a, const movement& b) { return key(a) < key(b); }), m);
    }

    [[nodiscard]] Uncertain taken_out(const batch_place place) const {
        Uncertain sum;
        for (const movement& m : taken_out_) {
            if (m.place == place) sum += m.litres;
        }
        return sum;
    }
    /// All that came in on the way from one stage to another; up to the last where `to` is past it.
    [[nodiscard]] Uncertain came_in(const std::size_t from, const std::size_t to) const {
        Uncertain sum;
        for (const movement& m : came_in_) {
            if (index(m.place) > from && index(m.place) <= to) sum += m.litres;
        }
        return sum;
    }

    /// The expectation of a place, in proportion to the last stage before it that was both expected and measured.
    [[nodiscard]] std::optional<Uncertain> foretold(const batch_place place) const {
        const std::optional<Uncertain>& expected = entries_[index(place)].expected;
        const std::size_t step = detail::facts_of(place).step;
        if (!expected || step == 0) return expected;
        for (std::size_t k = step - 1; k > 0; --k) {
            const entry& e = entries_[k];
            if (!e.measured || !e.expected) continue;
            const Uncertain elsewhere = came_in(k, step) - taken_out(stage(k));
            const Uncertain hoped = *e.expected + elsewhere;
            if (!(hoped.value() > 0.0)) break;
            return *expected * ((*e.measured + elsewhere) / hoped);
        }
        return expected;
    }

    [[nodiscard]] bool is_hard(const batch_place place) const { return place == batch_place::potential || is_measured(place); }
    [[nodiscard]] ledger_basis basis_of(const batch_place place) const {
        if (place == batch_place::potential) return ledger_basis::theoretical;
        return is_measured(place) ? ledger_basis::measured : ledger_basis::expected;
    }
    [[nodiscard]] std::size_t next_known(const std::size_t from) const {
        std::size_t k = from + 1;
        while (k < detail::batch_stages && !content(stage(k))) ++k;
        return k;
    }

    /// What a side place counts for in the balance: nothing if it is not known, or only expected while the stage after it is measured.
    [[nodiscard]] std::optional<Uncertain> side(const batch_place place) const {
        const std::size_t step = detail::facts_of(place).step;
        const std::size_t to = content(stage(step)) ? step : next_known(step);
        if (!is_measured(place) && to < detail::batch_stages && is_measured(stage(to))) return std::nullopt;
        return content(place);
    }

    [[nodiscard]] static bool on_the_way(const detail::batch_place_facts& f, const std::size_t from, const std::size_t to) {
        return index(f.place) >= detail::batch_stages && f.step > from && f.step <= to;
    }

    [[nodiscard]] Uncertain before(const std::size_t from, const std::size_t to) const { return *content(stage(from)) + came_in(from, to); }

    /// What is in a later stage (nothing past the last), in the side places on the way, and what was taken out on the way.
    [[nodiscard]] Uncertain after(const std::size_t from, const std::size_t to, const bool measured_only) const {
        Uncertain sum = to < detail::batch_stages ? *content(stage(to)) : Uncertain(0.0);
        for (std::size_t k = from; k < to && k < detail::batch_stages; ++k) sum += taken_out(stage(k));
        for (const detail::batch_place_facts& f : detail::batch_places) {
            if (!on_the_way(f, from, to)) continue;
            const std::optional<Uncertain> held = side(f.place);
            if (held && (is_measured(f.place) || !measured_only)) {
                sum += *held;
            } else {
                sum += taken_out(f.place);
            }
        }
        return sum;
    }

    [[nodiscard]] bool all_hard(const std::size_t from, const std::size_t to) const {
        if (!is_hard(stage(from)) || (to < detail::batch_stages && !is_hard(stage(to)))) return false;
        return std::none_of(detail::batch_places.begin(), detail::batch_places.end(),
                            [&](const detail::batch_place_facts& f) { return on_the_way(f, from, to) && side(f.place) && !is_measured(f.place); });
    }

    static bool report(std::vector<LedgerFinding>& list, const bool hard, const batch_place before, const batch_place after, const Uncertain& more,
                       const Uncertain& less, const double coverage) {
        constexpr double round_off = 1e-12;  // relative
        const Uncertain excess = more - less;
        const double u = excess.standard_uncertainty();
        if (!(excess.value() > coverage * u + round_off * (more.value() + std::abs(less.value())))) return false;
        const double ratio = u > 0.0 ? excess.value() / u : std::numeric_limits<double>::infinity();
        const std::string size =
            print("%.3f", excess.value()) + " L (" + (u > 0.0 ? print("%.1f", ratio) + " standard uncertainties" : "no doubt stated") + ")";
        const std::string what = before == after ? "taken out of, or split off from, " + named(after) + ": " + print("%.3f", more.value()) + " L of " +
                                                       print("%.3f", less.value()) + " L"
                                                 : "from " + named(before) + " to " + named(after) + ": " + print("%.3f", more.value()) + " L after, " +
                                                       print("%.3f", less.value()) + " L before";
        list.push_back({hard ? ledger_conflict::impossible : ledger_conflict::against_expectation, before, after, excess, ratio,
                        (hard ? "impossible: " : "against expectation: ") + what + "; " + size + " too much"});
        return true;
    }

    [[nodiscard]] LedgerRow row(const ledger_line line, const batch_place place, const std::string& name, const Uncertain& litres,
                                const ledger_basis basis) const {
        return {line, place, name, litres, litres / start_.pure_alcohol_l, basis, std::nullopt, ""};
    }

    [[nodiscard]] LedgerRow row_of(const ledger_line line, const batch_place place, const Uncertain& litres) const {
        LedgerRow r = row(line, place, named(place), litres, basis_of(place));
        const entry& e = entries_[index(place)];
        r.note = e.measured ? e.measured_note : e.expected_note;
        if (e.measured) r.expected = e.expected;
        return r;
    }

    void add_taken_out(std::vector<LedgerRow>& list, const batch_place place) const {
        for (const movement& m : taken_out_) {
            if (m.place != place) continue;
            list.push_back(row(ledger_line::taken_out, place, named(place), m.litres, ledger_basis::measured));
            list.back().note = m.note;
        }
    }

    /// All lines after one known stage, up to the next, or to the end.
    void add_step(std::vector<LedgerRow>& list, const std::size_t from, const std::size_t to) const {
        for (const movement& m : came_in_) {
            if (index(m.place) <= from || index(m.place) > to) continue;
            list.push_back(row(ledger_line::came_in, m.place, "before " + named(m.place), m.litres, ledger_basis::measured));
            list.back().note = m.note;
        }
        for (std::size_t k = from; k < to && k < detail::batch_stages; ++k) add_taken_out(list, stage(k));
        std::vector<std::string_view> reasons;
        if (from == 0) reasons.push_back(detail::not_converted);
        std::optional<Uncertain> expected = from == 0 ? std::nullopt : std::optional<Uncertain>(0.0);
        for (const detail::batch_place_facts& f : detail::batch_places) {
            if (!on_the_way(f, from, to)) continue;
            const std::optional<Uncertain> held = side(f.place);
            if (held) {
                list.push_back(row_of(f.line, f.place, *held - taken_out(f.place)));
            } else {
                reasons.push_back(f.reason);
                const std::optional<Uncertain> hoped = foretold(f.place);
                expected = expected && hoped ? std::optional<Uncertain>(*expected + *hoped) : std::nullopt;
            }
            add_taken_out(list, f.place);
        }
        const Uncertain left = before(from, to) - after(from, to, false);
        if (to == detail::batch_stages) {
            list.push_back(row(ledger_line::in_hand, stage(from), "in hand: " + named(stage(from)), left, ledger_basis::difference));
            return;
        }
        if (stage(to) == batch_place::bottles && !reasons.empty()) reasons.push_back(detail::spilled);
        if (reasons.empty()) {
            reasons.push_back(detail::not_explained);
            expected.reset();
        }
        std::string name;
        for (const std::string_view reason : reasons) name.append(name.empty() ? "" : ", ").append(reason);
        list.push_back(row(ledger_line::remainder, stage(to), name, left, ledger_basis::difference));
        list.back().expected = expected;
        list.push_back(row_of(ledger_line::stage, stage(to), *content(stage(to))));
    }

    template <class Wanted>
    [[nodiscard]] std::vector<LedgerRow> only(const Wanted& wanted) const {
        std::vector<LedgerRow> list;
        for (LedgerRow& r : rows()) {
            if (wanted(r)) list.push_back(std::move(r));
        }
        return list;
    }

    static constexpr const char* line_name(const ledger_line line) {
        switch (line) {
            case ledger_line::lost: return "lost: grain, pots, fore-shots";
            case ledger_line::set_aside: return "set aside: heads, tails, rest";
            case ledger_line::taken_out: return "taken out";
            case ledger_line::remainder: return "differences between stages";
            case ledger_line::in_hand: return "in hand";
            case ledger_line::start:
            case ledger_line::came_in:
            case ledger_line::stage: break;
        }
        return "";
    }

    /// A number as the sheet shows it; what rounds to zero has no sign.
    static std::string print(const char* format, const double x) {
        char text[64];
        std::snprintf(text, sizeof text, format, x);
        if (std::strtod(text, nullptr) == 0.0) std::snprintf(text, sizeof text, format, 0.0);
        return text;
    }
    static std::string figures(const Uncertain& litres) { return print("%10.3f", litres.value()) + print("%9.3f", litres.standard_uncertainty()); }
    static std::string share_figures(const Uncertain& share) { return print("%9.1f", detail::percent * share.value()); }

    LedgerStart start_;
    std::array<entry, detail::batch_places.size()> entries_;
    std::vector<movement> came_in_;
    std::vector<movement> taken_out_;
};

}  // namespace ferment
