#pragma once
// The jars of a run: what is in them, fraction by fraction, and what happens to it. Masses are added, volumes never. Nothing here says what may
// be drunk; the label is the distiller's.

#include <array>
#include <cmath>
#include <cstddef>
#include <ferment/core/error.hpp>
#include <ferment/core/polynomial.hpp>
#include <ferment/core/scalar.hpp>
#include <ferment/core/source.hpp>
#include <ferment/core/uncertain.hpp>
#include <ferment/liquid/spirit.hpp>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace ferment {

/// Which part of the run a jar holds. `none`: not decided yet.
enum class cut_label { fore_shots, heads, hearts, tails, none };

inline constexpr std::array<cut_label, 5> cut_labels{cut_label::fore_shots, cut_label::heads, cut_label::hearts, cut_label::tails, cut_label::none};

constexpr std::string_view to_string(const cut_label label) {
    switch (label) {
        case cut_label::fore_shots: return "fore_shots";
        case cut_label::heads: return "heads";
        case cut_label::hearts: return "hearts";
        case cut_label::tails: return "tails";
        case cut_label::none: return "none";
    }
    return "unknown";
}

/// The label of this name. Throws InputError naming the known ones.
inline cut_label cut_label_from(const std::string_view name) {
    std::string known;
    for (const cut_label label : cut_labels) {
        if (to_string(label) == name) return label;
        known.append(known.empty() ? "" : ", ").append(to_string(label));
    }
    throw InputError("cut label \"" + std::string(name) + "\" is not known; known are " + known);
}

inline constexpr source jar_reading{
    "jar_reading",
    "standard uncertainty of a jar's volume and strength where none is given",
    "common practice, no source: a kitchen measure read to 1 % of the jar, a glass alcoholometer read to half a division",
    "jars of 0.1 to 5 L, alcoholometers divided in 1 % vol",
    "assumed",
    source_status::common_practice,
};
inline constexpr source strongest_distillate{
    "strongest_distillate",
    "the strength no still passes [% vol]",
    "azeotrope of ethanol and water at 1 atm: 0.8943 mol/mol, Perry, Chemical Engineers' Handbook, table 13-1; 97.2 % vol with OIML R 22",
    "without a third substance or vacuum",
    "rounded down to 97 % vol",
};
inline constexpr double strongest_distillate_abv = 0.97;

/// One jar as collected.
struct Jar {
    double volume_l = 0.0;        ///< L at temperature_c, > 0
    double temperature_c = 20.0;  ///< of the spirit when its volume was read, -20 to 40 degC
    double abv = 0.0;             ///< true strength at 20 degC, fraction by volume, 0 to 0.97; readings at other temperatures come corrected
    cut_label label = cut_label::none;
    std::string note{};
    double relative_volume_uncertainty = 0.01;  ///< standard, share of the volume, >= 0
    double abv_uncertainty = 0.005;             ///< standard, fraction by volume, >= 0
};

/// A jar, worked out.
struct JarContent {
    double mass_kg;
    double ethanol_kg;
    double volume_20c_l;          ///< L at 20 degC
    Uncertain pure_alcohol_l;     ///< L of ethanol at 20 degC
    double cumulative_mass_kg;    ///< this jar and all before it
    double cumulative_volume_l;   ///< L at 20 degC they would fill together, contraction counted
    double cumulative_alcohol_l;  ///< L of pure alcohol
    double cumulative_abv;        ///< strength of all of them together, fraction by volume
};

/// Liquids poured together.
struct CutBlend {
    double mass_kg = 0.0;
    double ethanol_kg = 0.0;
    double volume_20c_l = 0.0;        ///< L at 20 degC
    double abv = 0.0;                 ///< fraction by volume
    Uncertain pure_alcohol_l{};       ///< jars are independent, an instrument error they share is not counted
    std::vector<std::size_t> jars{};  ///< indices, from 0
};

/// What one label holds.
struct CutFraction {
    cut_label label;
    CutBlend content;      ///< empty, with NaN strength, where no jar has the label
    double alcohol_share;  ///< of the pure alcohol of all jars, fraction
};

/// All jars of a run.
struct Cuts {
    std::vector<JarContent> jars;
    std::vector<CutFraction> fractions;   ///< in the order of cut_labels
    CutBlend total;                       ///< of everything, for the balance; not a blend to make
    std::vector<std::size_t> never_back;  ///< jars of fore-shots: not to be drunk, recycled or blended
};

namespace detail {

/// Mass fraction from volume fraction with its doubt: solved on the plain value, then one Newton step that carries the slope.
inline Uncertain abw_of(const Uncertain& abv) {
    const double root = volume_at_20c::to_abw(abv.value());
    const Uncertain rho = volume_at_20c::density(Uncertain(root));
    const double slope = rho.value() + root * volume_at_20c::density_slope(root);
    return Uncertain(root) - (Uncertain(root) * rho - abv * volume_at_20c::ethanol_density) / slope;
}

inline constexpr double litre_m3 = 1e-3;

/// Mass, and ethanol in it, of one jar; as numbers or with doubt.
template <class T>
struct jar_mass {
    T total_kg;
    T ethanol_kg;
};

inline jar_mass<double> plain_mass(const Jar& jar) {
    const double w = volume_at_20c::to_abw(jar.abv);
    const double kg = jar.volume_l * litre_m3 * oiml_r22::density(w, jar.temperature_c);
    return {kg, kg * w};
}

inline jar_mass<Uncertain> doubtful_mass(const Jar& jar, const std::string& name) {
    const Uncertain volume = Uncertain::input(jar.volume_l, jar.relative_volume_uncertainty * jar.volume_l, "volume of " + name);
    const Uncertain w = abw_of(Uncertain::input(jar.abv, jar.abv_uncertainty, "strength of " + name));
    const Uncertain kg = volume * litre_m3 * oiml_r22::density(w, Uncertain(jar.temperature_c));
    return {kg, kg * w};
}

inline std::string jar_name(const std::size_t index) {
    return "jar " + std::to_string(index + 1);
}

inline void require_jar(const Jar& jar, const std::size_t index) {
    const std::string name = jar_name(index);
    if (jar.volume_l <= 0.0 || std::isinf(jar.volume_l)) {
        throw RangeError("volume of " + name + " " + format_quantity(jar.volume_l, "L") + " must be a number above 0 L");
    }
    require_workable("volume of " + name, jar.volume_l, "L");
    require_fraction("strength of " + name, jar.abv, "% vol", num::from_percent(0.0, percent * strongest_distillate_abv), strongest_distillate);
    require_inside("temperature of " + name, jar.temperature_c, "degC", oiml_r22::t_range, oiml_r22::from);
    if (!std::isnan(jar.abv) && !std::isnan(jar.temperature_c)) require_spirit(volume_at_20c::to_abw(jar.abv), jar.temperature_c);
    if (jar.relative_volume_uncertainty < 0.0 || std::isinf(jar.relative_volume_uncertainty)) {
        throw RangeError("uncertainty of the volume of " + name + " " + format_quantity(percent * jar.relative_volume_uncertainty, "%") +
                         " must be a finite number, zero or more");
    }
    if (jar.abv_uncertainty < 0.0 || std::isinf(jar.abv_uncertainty)) {
        throw RangeError("uncertainty of the strength of " + name + " " + format_quantity(percent * jar.abv_uncertainty, "% vol") +
                         " must be a finite number, zero or more");
    }
    require_inside("uncertainty of the volume of " + name, percent * jar.relative_volume_uncertainty, "%", percent_range, "a share of the volume");
    require_inside("uncertainty of the strength of " + name, percent * jar.abv_uncertainty, "% vol", percent_range, "a share of the whole");
}

inline void require_jars(const std::span<const Jar> jars) {
    if (jars.empty()) throw InputError("cuts: no jar given");
    for (std::size_t k = 0; k < jars.size(); ++k) require_jar(jars[k], k);
}

/// Volume in L at 20 degC and strength of a mass of spirit.
struct poured {
    double volume_20c_l;
    double abv;
};
inline poured poured_from(const double mass_kg, const double ethanol_kg) {
    const double w = ethanol_kg / mass_kg;
    return {mass_kg / oiml_r22::density(w, oiml_r22::reference_c) / litre_m3, volume_at_20c::from_abw(w)};
}

inline CutBlend pour(const std::span<const Jar> jars, const std::vector<std::size_t>& which) {
    CutBlend sum;
    sum.jars = which;
    for (const std::size_t k : which) {
        const jar_mass<double> content = plain_mass(jars[k]);
        sum.mass_kg += content.total_kg;
        sum.ethanol_kg += content.ethanol_kg;
        sum.pure_alcohol_l += doubtful_mass(jars[k], jar_name(k)).ethanol_kg / (volume_at_20c::ethanol_density * litre_m3);
    }
    const poured all = poured_from(sum.mass_kg, sum.ethanol_kg);
    sum.abv = all.abv;
    sum.volume_20c_l = which.empty() ? 0.0 : all.volume_20c_l;
    return sum;
}

}  // namespace detail

/// What is in the jars: masses, curves over the run, fractions by label.
///   jars   in the order collected, at least one
///   ->     see Cuts; the pure alcohol of every jar carries its doubt from volume and strength
/// Throws InputError for no jar, RangeError for a volume not above zero, a strength outside 0 to 97 % vol, a temperature outside -20 to 40 degC or
/// below freezing, a negative uncertainty. NaN in a jar is NaN in it and in every sum it belongs to. Source: oiml_r22, GUM (JCGM 100:2008) section 5.
inline Cuts work_out_cuts(const std::span<const Jar> jars) {
    detail::require_jars(jars);
    Cuts cuts;
    double mass_kg = 0.0;
    double ethanol_kg = 0.0;
    std::vector<std::size_t> everything;
    for (std::size_t k = 0; k < jars.size(); ++k) {
        const detail::jar_mass<double> content = detail::plain_mass(jars[k]);
        mass_kg += content.total_kg;
        ethanol_kg += content.ethanol_kg;
        const detail::poured all = detail::poured_from(mass_kg, ethanol_kg);
        constexpr double kg_per_litre = volume_at_20c::ethanol_density * detail::litre_m3;
        cuts.jars.push_back({content.total_kg, content.ethanol_kg, detail::poured_from(content.total_kg, content.ethanol_kg).volume_20c_l,
                             detail::doubtful_mass(jars[k], detail::jar_name(k)).ethanol_kg / kg_per_litre, mass_kg, all.volume_20c_l,
                             ethanol_kg / kg_per_litre, all.abv});
        everything.push_back(k);
        if (jars[k].label == cut_label::fore_shots) cuts.never_back.push_back(k);
    }
    cuts.total = detail::pour(jars, everything);
    for (const cut_label label : cut_labels) {
        std::vector<std::size_t> which;
        for (std::size_t k = 0; k < jars.size(); ++k) {
            if (jars[k].label == label) which.push_back(k);
        }
        const CutBlend content = detail::pour(jars, which);
        cuts.fractions.push_back({label, content, content.ethanol_kg / cuts.total.ethanol_kg});
    }
    return cuts;
}

/// Some of the jars poured together.
///   which   indices, from 0; each at most once, at least one
///   ->      mass, volume at 20 degC, strength, pure alcohol with its doubt
/// Throws InputError for no jar, an index there is not, one given twice, and for a jar of fore-shots; else as work_out_cuts.
inline CutBlend blend_jars(const std::span<const Jar> jars, const std::span<const std::size_t> which) {
    detail::require_jars(jars);
    if (which.empty()) throw InputError("blend of jars: no jar chosen");
    std::vector<bool> taken(jars.size(), false);
    for (const std::size_t k : which) {
        if (k >= jars.size()) throw InputError("blend of jars: there is no " + detail::jar_name(k) + ", only " + std::to_string(jars.size()));
        if (taken[k]) throw InputError("blend of jars: " + detail::jar_name(k) + " is chosen twice");
        if (jars[k].label == cut_label::fore_shots) {
            throw InputError("blend of jars: " + detail::jar_name(k) + " is labelled fore_shots, which are never blended, drunk or recycled");
        }
        taken[k] = true;
    }
    return detail::pour(jars, {which.begin(), which.end()});
}

inline constexpr std::array<cut_label, 2> usual_recycling{cut_label::heads, cut_label::tails};

/// What goes back into the next charge: every jar with one of the labels, heads and tails if none are named.
/// Throws InputError if fore_shots are among the labels or no jar has one of them; else as work_out_cuts. Fore-shots stay out: what makes them
/// fore-shots would gather from run to run.
inline CutBlend recycle_jars(const std::span<const Jar> jars, const std::span<const cut_label> labels = usual_recycling) {
    detail::require_jars(jars);
    std::vector<std::size_t> which;
    std::string named;
    for (const cut_label label : cut_labels) {
        bool wanted = false;
        for (const cut_label one : labels) wanted = wanted || one == label;
        if (!wanted) continue;
        if (label == cut_label::fore_shots) throw InputError("recycling: fore_shots never go back into a charge");
        named.append(named.empty() ? "" : ", ").append(to_string(label));
        for (std::size_t k = 0; k < jars.size(); ++k) {
            if (jars[k].label == label) which.push_back(k);
        }
    }
    if (which.empty()) throw InputError("recycling: no jar is labelled " + (named.empty() ? std::string("so, as no label is given") : named));
    return detail::pour(jars, which);
}

}  // namespace ferment
