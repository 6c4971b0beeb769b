#pragma once
// What the tests of the course of a fermentation share: messages of errors, rows by their id, batches.

#include <cmath>
#include <ferment/fermentation/course.hpp>
#include <ferment/mash/grain_table.hpp>
#include <limits>
#include <stdexcept>
#include <string>

#include "catch.hpp"
#include "csv.hpp"

namespace ferment_test {

inline constexpr double nan_value = std::numeric_limits<double>::quiet_NaN();
inline constexpr double infinite = std::numeric_limits<double>::infinity();
inline constexpr double still_air_bath = 100.0;  // W/(m2 K), the most a vessel may have: the mash stays as warm as what surrounds it

/// The message of the error of this kind that a call throws, or a remark that it threw none or another.
template <class Expected, class F>
std::string message_of(const F& call) {
    try {
        call();
    } catch (const Expected& error) {
        return error.what();
    } catch (const std::exception& error) {
        return std::string("another error: ") + error.what();
    }
    return "no error";
}

inline bool holds(const std::string& message, const std::string& part) {
    return message.find(part) != std::string::npos;
}

/// The row of a table of no_cook_fermentation.
inline Row row_of(const std::string& file, const std::string& id) {
    for (const Row& row : read_table("no_cook_fermentation/" + file)) {
        if (row.text("id") == id) return row;
    }
    throw std::runtime_error(file + " has no row " + id);
}

inline Row kinetic_row(const std::string& id) {
    return row_of("kinetic_parameters.csv", id);
}
inline Row progress_row(const std::string& id) {
    return row_of("progress_points.csv", id);
}

/// What a range such as 1.3-4.3 runs from and to.
struct PrintedRange {
    double from;
    double to;
};
inline PrintedRange printed_range(const std::string& cell) {
    const std::size_t dash = cell.find('-', 1);
    if (dash == std::string::npos) throw std::runtime_error("no range: " + cell);
    return {std::stod(cell.substr(0, dash)), std::stod(cell.substr(dash + 1))};
}

/// Flaked barley 14 kg, flaked rye 4 kg, barley malt 1.5 kg: a trade bill, common practice, no source.
inline ferment::Bill trade_bill() {
    using namespace ferment;
    Bill bill;
    bill.add(grain("flaked barley"), 14.0 * kilogram).add(grain("flaked rye"), 4.0 * kilogram).add(grain("barley malt"), 1.5 * kilogram);
    return bill;
}

/// The trade bill in 72 L of water.
inline ferment::Potential trade_potential() {
    using namespace ferment;
    return potential(trade_bill(), 72.0 * litre, 14.0 * degree_celsius, no_cook::assumptions());
}

inline constexpr ferment::Inoculum trade_inoculum{0.03, 1.0, 1.0};  // 30 g of dry yeast, full dose of enzyme

inline ferment::Fermentation trade_batch(const ferment::Conditions& conditions, const ferment::Inoculum& inoculum = trade_inoculum) {
    return ferment::Fermentation::of(trade_bill(), trade_potential(), inoculum, conditions);
}

/// Mash and air equally warm.
inline ferment::Conditions steady(const double celsius, const double heat_transfer = ferment::Vessel::bare) {
    return {celsius, ferment::Ambient::constant(celsius), {heat_transfer, 0.0, 12.0}};
}

/// A made-up grain of nothing but what is said, the rest being dry matter without use.
inline ferment::Grain made_of(const std::string& form, const double starch, const double sugars, const double disaccharides = 0.0) {
    ferment::Grain g;
    g.name = "made-up " + form;
    g.form = form;
    g.starch = {starch, 0.0};
    g.sugars = {sugars, 0.0};
    g.disaccharide_share = disaccharides;
    g.source = "a test";
    return g;
}

/// Parameters so far from their medians that they no longer act: no inhibition by sugar, no decay of enzyme, no uptake, no lag.
inline constexpr double far_up = 60.0;
inline constexpr double far_down = -200.0;

/// How many spreads a parameter lies from its median where it has this value; for those on a logarithmic scale.
inline double spreads_of(const ferment::kinetic::index i, const double value) {
    const ferment::kinetic_parameter& p = ferment::kinetic_table[i];
    if (p.scale == ferment::spread_scale::logit) {
        return (std::log(value / (1.0 - value)) - std::log(p.median / (1.0 - p.median))) / p.spread;
    }
    if (p.scale == ferment::spread_scale::log) return std::log(value / p.median) / p.spread;
    return (value - p.median) / p.spread;
}

}  // namespace ferment_test
