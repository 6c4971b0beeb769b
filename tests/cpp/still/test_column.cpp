#include <algorithm>
#include <cmath>
#include <ferment/still/column.hpp>
#include <string>
#include <vector>

#include "../liquid/checks.hpp"

using ferment::Column;
using ferment::ColumnCharge;
using ferment::ColumnHeat;
using ferment::ColumnPoint;
using ferment::ColumnRun;
using ferment::ColumnStop;
using ferment::fenske_stages;
using ferment::InputError;
using ferment::kilopascal;
using ferment::minimum_reflux;
using ferment::minimum_reflux_by_moles;
using ferment::PartialCondenser;
using ferment::percent_mass;
using ferment::plate_column;
using ferment::rectify;
using ferment::reflux_of_divider;
using ferment::reflux_of_partial_condenser;
using ferment::SolveError;
using ferment::stages_at_total_reflux;
using ferment::stop_reason;
using ferment::TakeOff;
using ferment::total_reflux_stages;
using ferment::volume_at_20c;
using ferment::wash_equilibrium;
using ferment::wash_vapour;
using namespace ferment_test;
namespace num = ferment::num;

namespace {

constexpr double atmosphere = 101325.0;  // Pa
const auto one_atmosphere = 101.325 * kilopascal;
constexpr double closure = 1e-10;  // of the charge
constexpr ColumnCharge low_wines{50.0, 0.25};
constexpr ColumnHeat heat{3.0, 0.3, 0.5};

/// The table that the textbooks worked with, joined by a cubic that keeps it rising (Fritsch and Carlson).
class perry_equilibrium {
public:
    static constexpr double light = wash_vapour::ethanol;
    static constexpr double heavy = wash_vapour::water;

    perry_equilibrium() {
        for (const Row& row : read_table("distillation/vle_perry.csv")) {
            x_.push_back(row.number("x"));
            y_.push_back(row.number("y"));
        }
        const std::size_t n = x_.size();
        std::vector<double> chord(n - 1);
        for (std::size_t i = 0; i + 1 < n; ++i) chord[i] = (y_[i + 1] - y_[i]) / (x_[i + 1] - x_[i]);
        slope_.assign(n, 0.0);
        const auto end = [&](const std::size_t at, const std::size_t next, const double h, const double h_next) {
            return ((2.0 * h + h_next) * chord[at] - h * chord[next]) / (h + h_next);
        };
        slope_[0] = end(0, 1, x_[1] - x_[0], x_[2] - x_[1]);
        slope_[n - 1] = end(n - 2, n - 3, x_[n - 1] - x_[n - 2], x_[n - 2] - x_[n - 3]);
        for (std::size_t i = 1; i + 1 < n; ++i) {
            const double left = x_[i] - x_[i - 1];
            const double right = x_[i + 1] - x_[i];
            slope_[i] = 3.0 * (left + right) / ((2.0 * right + left) / chord[i - 1] + (right + 2.0 * left) / chord[i]);
        }
    }
    [[nodiscard]] num::value_and_slope<double> vapour(const double x) const {
        const auto above = static_cast<std::size_t>(std::upper_bound(x_.begin(), x_.end(), x) - x_.begin());
        const std::size_t i = std::min(std::max<std::size_t>(above, 1), x_.size() - 1) - 1;
        const double h = x_[i + 1] - x_[i];
        const double s = (x - x_[i]) / h;
        const double u = 1.0 - s;
        const double value = u * u * (1.0 + 2.0 * s) * y_[i] + s * s * (1.0 + 2.0 * u) * y_[i + 1] + h * s * u * (u * slope_[i] - s * slope_[i + 1]);
        return {value, 6.0 * s * u * (y_[i + 1] - y_[i]) / h + u * (1.0 - 3.0 * s) * slope_[i] + s * (1.0 - 3.0 * u) * slope_[i + 1]};
    }
    [[nodiscard]] double liquid(const double y) const {
        const auto excess = [&](const double x) {
            const num::value_and_slope<double> here = vapour(x);
            return num::value_and_slope<double>{ferment::vle::settled(here.value - y, 1e-15), here.slope};
        };
        return num::bracketed_newton<double>(excess, 0.0, 1.0, y);
    }
    [[nodiscard]] double azeotrope() const { return 0.8943; }
    [[nodiscard]] double boiling_c(const double x) const { return wash_vapour::bubble_point(wash_vapour::mass_fraction(x), atmosphere).boiling_c; }

private:
    std::vector<double> x_, y_, slope_;
};

/// Constant relative volatility.
struct constant_alpha {
    static constexpr double light = wash_vapour::ethanol;
    static constexpr double heavy = wash_vapour::water;
    double alpha;
    [[nodiscard]] num::value_and_slope<double> vapour(const double x) const {
        const double d = 1.0 / (1.0 + (alpha - 1.0) * x);
        return {alpha * x * d, alpha * d * d};
    }
    [[nodiscard]] double liquid(const double y) const { return y / (alpha - (alpha - 1.0) * y); }
    [[nodiscard]] double azeotrope() const { return 1.0; }
    [[nodiscard]] double boiling_c(const double) const { return 90.0; }
};

ColumnStop at_drop(const double abv) {
    ColumnStop s;
    s.distillate_abv = abv;
    return s;
}
ColumnStop at_pot(const double abv) {
    ColumnStop s;
    s.pot_abv = abv;
    return s;
}
double abw(const double z) {
    return wash_vapour::mass_fraction(z);
}
double abv(const double z) {
    return volume_at_20c::from_abw(abw(z));
}
/// Moles in a mass of a mole fraction, kmol from kg.
double moles(const double kilograms, const double z) {
    return kilograms / (z * wash_vapour::ethanol + (1.0 - z) * wash_vapour::water);
}
double moles_by_mass(const double kilograms, const double w) {
    return moles(kilograms, wash_vapour::mole_fraction(w));
}
/// A charge of so many kmol, kg.
ColumnCharge charge_of(const double kmol, const double z) {
    return {kmol / moles(1.0, z), abw(z)};
}

/// The printed value of an example.
double printed(const std::string& id, const std::string& quantity) {
    for (const Row& row : read_table("distillation/worked_examples_batch.csv")) {
        if (row.text("id") == id && row.text("quantity") == quantity) return row.number("value");
    }
    throw std::runtime_error("no row " + id + ", " + quantity);
}

template <class Equilibrium>
ColumnRun run_on(const Equilibrium& equilibrium, const ColumnCharge& charge, const Column& column, const TakeOff& take_off, const ColumnStop& stop,
                 const int points = 21) {
    return ferment::detail::column_run<Equilibrium>(equilibrium, charge, column, {10.0, 0.0, 0.0}, take_off, stop).run(points);
}

/// Integral of the reflux over the moles taken off, kmol, by the trapezoid.
double refluxed(const ColumnRun& run, const double head) {
    double sum = 0.0;
    for (std::size_t i = 1; i < run.points.size(); ++i) {
        const double taken = moles(run.points[i].collected_kg - run.points[i - 1].collected_kg, head);
        sum += 0.5 * (run.points[i].reflux + run.points[i - 1].reflux) * taken;
    }
    return sum;
}

}  // namespace

// ---- published ----

// Coulson & Richardson, Chemical Engineering vol. 2, ex. 11.12: four ideal plates and the still; graphical, 3 to 5 %.
// On Perry's table, which the book used, everything comes out: pot 0.5502 at R = 0.85 and 0.0478 at R = 4 (own check of the reference table, which had more
// rows of it: 0.550 and 0.0486), 71.5 kmol, reflux 95.9 kmol, 93.1 MJ/kmol.
// On the equilibrium of this library, whose vapour is up to 0.013 from that table, the same column is better: pot 0.510 at R = 0.85 and 0.0349 at R = 4,
// 72.0 kmol, reflux 83.2 kmol (13 % below the printed 96), 85.7 MJ/kmol (8 % below). That much a small error of the vapour is worth after five stages.
TEST_CASE("column: constant strength, Coulson and Richardson 11.12", "[still][column][published]") {
    const perry_equilibrium perry;
    const double head = printed("R3", "top product x (constant)");
    const double start = printed("R3", "charge x");
    constexpr int plates = 4;
    const auto pot_at = [&](const auto& equilibrium, const double reflux) {
        return plate_column<std::decay_t<decltype(equilibrium)>>::down(equilibrium, head, reflux / (1.0 + reflux), plates).pot.value;
    };
    CHECK(std::abs(pot_at(perry, 0.85) - 0.550) <= 0.002);
    CHECK(std::abs(pot_at(perry, 4.0) - 0.0486) <= 0.03 * 0.0486);
    CHECK(std::abs(pot_at(perry, 4.0) - printed("R3", "final still x at R=4")) <= 0.05 * 0.05);

    const ColumnRun run = run_on(perry, charge_of(100.0, start), {plates, 0.0}, TakeOff::at_strength(abv(head), 4.0), {}, 401);
    CHECK(run.reason == stop_reason::reflux_limit);
    CHECK(std::abs(run.points.front().reflux - 0.85) <= 0.01);
    CHECK(std::abs(run.points.back().reflux - 4.0) <= 1e-9);
    const double taken = moles(run.distillate_kg, head);
    CHECK(std::abs(taken - printed("R3", "distillate")) <= 0.3);
    // Printed 96 by graphical integration, 102 by a trapezoid over its own six points.
    const double returned = refluxed(run, head);
    CAPTURE(returned);
    CHECK(std::abs(returned / printed("R3", "integral R dDb") - 1.0) <= 0.03);
    // The book's latent heat is ten times too small, so its heats are a tenth: 9.32 MJ/kmol is 93.2.
    const double heat_mj = run.energy_kwh * 3.6;
    constexpr double latent_heat_slip = 10.0;
    CHECK(std::abs(heat_mj / taken / (latent_heat_slip * printed("R3", "total heat per kmol product")) - 1.0) <= 0.03);

    // The same on the equilibrium of the library; what disagrees is pinned at its own figure (regression), the distillate is within the 3 %.
    const ColumnRun ours = rectify(charge_of(100.0, start), {plates, 0.0}, {10.0, 0.0, 0.0}, TakeOff::at_strength(abv(head), 4.0), {}, one_atmosphere, 401);
    CHECK(std::abs(moles(ours.distillate_kg, head) / printed("R3", "distillate") - 1.0) <= 0.03);
    CHECK(std::abs(refluxed(ours, head) - 83.2) <= 0.1);
}

// Ex. 11.13, constant reflux 2.1: the drawing gives a top of 0.78 for the pot of 0.55 and 0.74 for 0.105. Stepping exactly on the table needs pots of
// 0.525 and 0.090 (own check of the reference table; here, with fewer rows of it, 0.512 and 0.0896): the printed readings are off by 0.025 and 0.015.
TEST_CASE("column: constant reflux, Coulson and Richardson 11.13", "[still][column][published]") {
    const perry_equilibrium perry;
    const double reflux = printed("R4", "reflux ratio (constant)");
    const double r = reflux / (1.0 + reflux);
    using column = plate_column<perry_equilibrium>;
    CHECK(std::abs(column::down(perry, 0.78, r, 4).pot.value - 0.525) <= 0.03 * 0.525);
    CHECK(std::abs(column::down(perry, 0.74, r, 4).pot.value - 0.090) <= 0.03 * 0.090);
    const ColumnRun run = run_on(perry, charge_of(100.0, 0.55), {4, 0.0}, TakeOff::at_reflux(reflux), at_pot(abv(printed("R4", "final still x"))));
    CHECK(std::abs(wash_vapour::mole_fraction(run.points.front().abw) - 0.78) <= 0.005);
    CHECK(std::abs(wash_vapour::mole_fraction(run.points.back().abw) - 0.74) <= 0.01);
}

// Perry, simple batch still: 100 mol of 0.18 down to 0.06; residue 70.0 within 0.4, average 0.46 within 0.005. On Perry's table 70.1 and 0.461. The
// equilibrium of this library disagrees a little: 70.51 and 0.467, integral 0.3494 against 0.358; two-liquid parameter sets give 0.349 to 0.362.
TEST_CASE("column: no plates, the simple still of Perry", "[still][column][published]") {
    const perry_equilibrium perry;
    const ColumnCharge charge = charge_of(printed("R1", "charge"), printed("R1", "initial x"));
    const ColumnStop stop = at_pot(abv(printed("R1", "final x")));
    const ColumnRun run = run_on(perry, charge, {0, 0.0}, TakeOff::at_reflux(0.0), stop);
    const double left = moles_by_mass(run.residue_kg, run.residue_abw);
    CHECK(std::abs(left - printed("R1", "residue")) <= 0.4);
    CHECK(std::abs(std::log(100.0 / left) - printed("R1", "integral dx/(y-x) 0.06..0.18")) <= 0.005);
    CHECK(std::abs(wash_vapour::mole_fraction(run.distillate_ethanol_kg / run.distillate_kg) - printed("R1", "average distillate x")) <= 0.005);
    const ColumnRun ours = rectify(charge, {0, 0.0}, {10.0, 0.0, 0.0}, TakeOff::at_reflux(0.0), stop, one_atmosphere);
    const double integral = std::log(100.0 / moles_by_mass(ours.residue_kg, ours.residue_abw));
    CHECK(integral >= 0.349);
    CHECK(integral <= 0.362);
}

// Treybal, ill. 9.6: constant relative volatility 2.16, 60 % of 100 mol of 0.50 boiled off; residue 0.3276, distillate 0.6150 (computed in closed form
// by the reference table, printed values not seen).
TEST_CASE("column: no plates at constant relative volatility, Treybal 9.6", "[still][column][published]") {
    const constant_alpha equilibrium{2.16};
    const ColumnRun run = run_on(equilibrium, charge_of(100.0, 0.50), {0, 0.0}, TakeOff::at_reflux(0.0), at_pot(abv(0.3276)));
    const double left = moles_by_mass(run.residue_kg, run.residue_abw);
    CHECK(std::abs(left - 40.0) <= 0.01);
    CHECK(std::abs(wash_vapour::mole_fraction(run.distillate_ethanol_kg / run.distillate_kg) - 0.6150) <= 0.0001);
    // ln(F xF/(W xW)) = alpha ln(F (1 - xF)/(W (1 - xW))), with the run's own W and xW.
    const double x = wash_vapour::mole_fraction(run.residue_abw);
    CHECK(std::abs(std::log(100.0 * 0.5 / (left * x)) - 2.16 * std::log(100.0 * 0.5 / (left * (1.0 - x)))) <= 1e-8);
}

// Seader, Henley & Roper ex. 7.32. The reference table's own figure, no printed one was seen: tangent pinch at 0.75 with a minimum reflux of 2.00, where
// the feed line alone would say 1.11. Here 1.86 at 0.73 on the rows of Perry's table that the test has, 1.88 at 0.753 on the equilibrium of the library. An
// error dy of the vapour at the pinch moves the minimum reflux by (1 + R)^2 dy/(head - pinch): all three lie within the 0.01 that Perry's table is good for.
TEST_CASE("column: minimum reflux is set by a tangent", "[still][column][published]") {
    const perry_equilibrium perry;
    const auto drawn = minimum_reflux_by_moles(perry, 0.12, 0.85);
    CHECK(drawn.tangent);
    const auto vapour_error = [](const auto& found) { return (found.reflux - 2.00) * (0.85 - found.pinch) / ((1.0 + found.reflux) * (1.0 + found.reflux)); };
    CHECK(std::abs(vapour_error(drawn)) <= 0.01);
    CHECK(std::abs(drawn.pinch - 0.75) <= 0.03);
    const double feed_slope = (0.85 - perry.vapour(0.12).value) / (0.85 - 0.12);
    CHECK(std::abs(feed_slope / (1.0 - feed_slope) - 1.11) <= 0.05);
    const auto ours = minimum_reflux(abw(0.12) * 100.0 * percent_mass, abw(0.85) * 100.0 * percent_mass, one_atmosphere);
    CHECK(ours.tangent);
    CHECK(std::abs(vapour_error(ours)) <= 0.01);
    // The line of that reflux touches the curve and crosses it nowhere.
    const wash_equilibrium equilibrium(atmosphere);
    const double r = ours.reflux / (1.0 + ours.reflux);
    double closest = 1.0;
    for (int i = 0; i <= 7299; ++i) {
        const double x = 0.12 + 0.0001 * i;
        closest = std::min(closest, equilibrium.vapour(x).value - (r * x + (1.0 - r) * 0.85));
    }
    CHECK(closest >= -1e-12);
    CHECK(closest <= 1e-7);
    // A weak distillate is limited at the pot.
    const auto weak = minimum_reflux(abw(0.12) * 100.0 * percent_mass, abw(0.60) * 100.0 * percent_mass, one_atmosphere);
    CHECK(!weak.tangent);
    CHECK(std::abs(weak.pinch - 0.12) <= 1e-12);
    // And one that the pot gives by itself needs none.
    CHECK(minimum_reflux(abw(0.12) * 100.0 * percent_mass, abw(0.30) * 100.0 * percent_mass, one_atmosphere).reflux == 0.0);
}

// ---- the table of the equilibrium ----

TEST_CASE("column: the table of the equilibrium is wash_vapour", "[still][column]") {
    for (const double p : {20e3, 60e3, atmosphere, 110e3}) {
        const wash_equilibrium table(p);
        Worst vapour;
        Worst back;
        double before = -1.0;
        bool rising = true;
        constexpr int samples = 3001;
        for (int i = 0; i <= samples; ++i) {
            const double x = static_cast<double>(i) / samples;
            const double y = table.vapour(x).value;
            vapour.add(y - wash_vapour::binary::at(x, wash_vapour::binary::boiling(x, p)).vapour);
            back.add(table.liquid(y) - x);
            rising = rising && y > before;
            before = y;
        }
        CAPTURE(p, vapour.value, back.value);
        CHECK(vapour.value <= 2e-10);
        CHECK(back.value <= 1e-13);
        CHECK(rising);
        CHECK(std::abs(table.azeotrope() - wash_vapour::azeotrope(p).mole_fraction) <= 1e-7);
        const auto value = [&](const double x) { return table.vapour(x).value; };
        for (const double x : {0.01, 0.1371, 0.501, 0.93}) CHECK(std::abs(table.vapour(x).slope - central_difference(value, x)) <= 1e-6);
    }
}

// ---- limits ----

TEST_CASE("column: no plates are a simple still, whatever the reflux", "[still][column]") {
    // d ln M = dw/(v(w) - w), by Simpson's rule on the solved equilibrium.
    const double start = 0.25;
    const double end = 0.03;
    constexpr int intervals = 4000;
    const auto f = [](const double w) { return 1.0 / (wash_vapour::bubble_point(w, atmosphere).vapour - w); };
    double sum = f(start) + f(end);
    for (int i = 1; i < intervals; ++i) sum += (i % 2 == 1 ? 4.0 : 2.0) * f(end + (start - end) * i / intervals);
    const double left = std::exp(-sum * (start - end) / intervals / 3.0);
    const ColumnStop stop = at_pot(volume_at_20c::from_abw(end));
    for (const double reflux : {0.0, 3.0}) {
        const ColumnRun run = rectify({50.0, start}, {0, 0.0}, heat, TakeOff::at_reflux(reflux), stop, one_atmosphere);
        CAPTURE(reflux, run.residue_kg / 50.0 - left);
        CHECK(std::abs(run.residue_kg / 50.0 - left) <= 1e-8);
    }
    // So it is with plates but without reflux: they are dry.
    const ColumnRun dry = rectify({50.0, start}, {7, 0.0}, heat, TakeOff::at_reflux(0.0), stop, one_atmosphere);
    CHECK(std::abs(dry.residue_kg / 50.0 - left) <= 1e-8);
}

TEST_CASE("column: a steady state does not depend on where it is looked for", "[still][column]") {
    const wash_equilibrium equilibrium(atmosphere);
    using column = plate_column<wash_equilibrium>;
    constexpr double round_off = 1e-12;
    for (const int plates : {0, 1, 4, 12, 40, 200}) {
        for (const double ethanol : {0.02, 0.5, 5.0, 20.0, 40.0}) {
            for (const double reflux : {0.2, 2.0, 20.0}) {
                const column::contents in{50.0, ethanol, plates > 0 ? 0.5 : 0.0};
                const double r = reflux / (1.0 + reflux);
                const auto far = column::at_reflux(equilibrium, in, r, plates, 1e-6);
                for (const double off : {0.999, 1.0, 1.0001}) {
                    CAPTURE(plates, ethanol, reflux, off);
                    const auto near = column::at_reflux(equilibrium, in, r, plates, far.head * off);
                    CHECK(std::abs(near.head / far.head - 1.0) <= round_off);
                    // Under more plates the last digit of the distillate decides about many digits of the pot.
                    if (plates <= 12) CHECK(std::abs(near.pot / far.pot - 1.0) <= round_off);
                }
            }
        }
    }
}

TEST_CASE("column: many plates come to the minimum reflux", "[still][column]") {
    const wash_equilibrium equilibrium(atmosphere);
    using column = plate_column<wash_equilibrium>;
    for (const double reflux : {1.0, 2.0, 3.0}) {
        const double r = reflux / (1.0 + reflux);
        double before = 0.0;
        for (const int plates : {2, 8, 30, 200}) {
            const auto s = column::at_reflux(equilibrium, {50.0, 12.5, 0.0}, r, plates, 0.7);
            const double least = minimum_reflux_by_moles(equilibrium, s.pot, s.head).reflux;
            CAPTURE(reflux, plates, least);
            CHECK(least < reflux * (1.0 + 1e-9));
            CHECK(least > before);
            before = least;
        }
        CHECK(reflux - before <= 0.02 * reflux);
    }
    // At total reflux they come to the azeotrope.
    const auto total = column::at_reflux(equilibrium, {50.0, 12.5, 0.0}, 1.0, 200, 0.7);
    CHECK(total.head < equilibrium.azeotrope());
    CHECK(equilibrium.azeotrope() - total.head <= 1e-4);
}

TEST_CASE("column: more plates or more reflux never give a weaker distillate", "[still][column]") {
    const wash_equilibrium equilibrium(atmosphere);
    using column = plate_column<wash_equilibrium>;
    for (const double w : {0.002, 0.02, 0.10, 0.30, 0.60, 0.90}) {
        double of_plates = 0.0;
        for (int plates = 0; plates <= 25; ++plates) {
            const double head = column::at_reflux(equilibrium, {50.0, 50.0 * w, 0.0}, 0.7, plates, 0.5).head;
            CAPTURE(w, plates);
            CHECK(head >= of_plates - 1e-13);
            of_plates = head;
        }
        double of_reflux = 0.0;
        for (int i = 0; i <= 20; ++i) {
            const double head = column::at_reflux(equilibrium, {50.0, 50.0 * w, 0.0}, 0.05 * i, 6, 0.5).head;
            CAPTURE(w, i);
            CHECK(head >= of_reflux - 1e-13);
            of_reflux = head;
        }
    }
}

TEST_CASE("column: least stages, Fenske and counted", "[still][column]") {
    using column = plate_column<constant_alpha>;
    // Exact at constant relative volatility, from large steps to small: n plates and the pot are n + 1 stages.
    for (const double alpha : {8.0, 2.16, 1.05}) {
        for (const int plates : {0, 3, 40}) {
            const constant_alpha equilibrium{alpha};
            const double head = 0.85;
            const double pot = column::down(equilibrium, head, 1.0, plates).pot.value;
            CAPTURE(alpha, plates);
            if (pot > 1e-12) CHECK(std::abs(fenske_stages(head, pot, alpha) - (plates + 1)) <= 1e-9);
            if (pot > 1e-12) CHECK(std::abs(total_reflux_stages(equilibrium, pot * (1.0 + 1e-12), head) - (plates + 1)) <= 1e-6);
        }
    }
    CHECK(std::isnan(fenske_stages(0.2, 0.5, 2.0)));
    CHECK(std::isnan(fenske_stages(0.5, 0.2, 1.0)));
    CHECK(std::isnan(fenske_stages(not_a_number, 0.2, 2.0)));
    // On ethanol and water: as many as the plates that were stepped.
    const wash_equilibrium equilibrium(atmosphere);
    const double head = 0.84;
    const double pot = plate_column<wash_equilibrium>::down(equilibrium, head, 1.0, 9).pot.value;
    const double counted = stages_at_total_reflux(abw(pot) * 100.0 * percent_mass, abw(head) * 100.0 * percent_mass, one_atmosphere);
    CHECK(std::abs(counted - 10.0) <= 1e-6);
    // The constant formula lies between those of the volatilities of the two ends.
    const auto alpha_at = [&](const double x) { return equilibrium.vapour(x).value * (1.0 - x) / (x * (1.0 - equilibrium.vapour(x).value)); };
    CHECK(counted > fenske_stages(head, pot, alpha_at(pot)));
    CHECK(counted < fenske_stages(head, pot, alpha_at(head)));
}

// ---- runs ----

TEST_CASE("column: mass and ethanol close, whatever the take-off", "[still][column]") {
    const std::vector<TakeOff> ways{TakeOff::at_reflux(3.0), TakeOff::at_strength(0.93, 15.0), TakeOff::at_rate(2.5)};
    for (const TakeOff& way : ways) {
        for (const double hold_up : {0.0, 1.5}) {
            const Column column{8, hold_up};
            const ColumnStop stop = way.mode == ferment::take_off_mode::constant_strength ? ColumnStop{} : at_drop(0.5);
            const ColumnRun run = rectify(low_wines, column, heat, way, stop, one_atmosphere, 9);
            const double ethanol = low_wines.mass_kg * low_wines.abw;
            CAPTURE(static_cast<int>(way.mode), hold_up);
            CHECK(std::abs(run.distillate_kg + run.residue_kg - low_wines.mass_kg) <= closure * low_wines.mass_kg);
            CHECK(std::abs(run.distillate_ethanol_kg + run.residue_ethanol_kg - ethanol) <= closure * ethanol);
            CHECK(std::abs(run.equilibrated.ethanol_kg + run.equilibrated.pot_abw * (low_wines.mass_kg - hold_up) - ethanol) <= closure * ethanol);
            for (const ColumnPoint& p : run.points) {
                const double in_plates = hold_up > 0.0 ? hold_up * p.hold_up_abw : 0.0;
                const double all = p.collected_kg * p.collected_abw + p.pot_kg * p.pot_abw + in_plates;
                CHECK(std::abs(all - ethanol) <= closure * ethanol);
                CHECK(std::abs(p.collected_kg + p.pot_kg + hold_up - low_wines.mass_kg) <= closure * low_wines.mass_kg);
            }
            CHECK(!run.cautions.empty());
        }
    }
}

TEST_CASE("column: what was collected is the integral of the drops, and time that of the take-off", "[still][column]") {
    for (const TakeOff& way : {TakeOff::at_reflux(3.0), TakeOff::at_rate(2.5)}) {
        const ColumnRun run = rectify(low_wines, {8, 1.0}, heat, way, at_drop(0.8), one_atmosphere, 401);
        double ethanol = 0.0;
        double hours = heat.equilibration_h;
        for (std::size_t i = 2; i < run.points.size(); i += 2) {  // Simpson's rule
            const ColumnPoint& a = run.points[i - 2];
            const ColumnPoint& b = run.points[i - 1];
            const ColumnPoint& c = run.points[i];
            const double h = (c.collected_kg - a.collected_kg) / 6.0;
            ethanol += h * (a.abw + 4.0 * b.abw + c.abw);
            const auto per_kg = [](const ColumnPoint& p) { return 1.0 / (p.take_off_l_per_h * volume_at_20c::density(p.abw) / 1000.0); };
            hours += h * (per_kg(a) + 4.0 * per_kg(b) + per_kg(c));
        }
        CHECK(std::abs(ethanol / run.distillate_ethanol_kg - 1.0) <= 1e-7);
        CHECK(std::abs(hours / run.time_h - 1.0) <= 1e-7);
        CHECK(std::abs(run.energy_kwh - heat.heating_kw * run.time_h) <= 1e-9);
    }
}

TEST_CASE("column: boil-up is power over latent heat, and the take-off what the reflux leaves", "[still][column]") {
    const ColumnRun run = rectify(low_wines, {8, 1.0}, heat, TakeOff::at_reflux(3.0), at_drop(0.5), one_atmosphere, 5);
    for (const ColumnPoint& p : run.points) {
        const auto boiling = wash_vapour::bubble_point(p.pot_abw, atmosphere);
        CHECK(std::abs(p.pot_c - boiling.boiling_c) <= 1e-6);
        CHECK(std::abs(p.head_c - wash_vapour::dew_point(p.abw, atmosphere).boiling_c) <= 1e-6);
        const double vapour_kg = (heat.heating_kw - heat.loss_kw) * 3600e3 / ferment::spirit_heat::latent_heat(boiling.vapour, boiling.boiling_c);
        const double vapour_kmol = moles_by_mass(vapour_kg, boiling.vapour);
        CHECK(std::abs(moles_by_mass(p.boil_up_kg_per_h, p.abw) / vapour_kmol - 1.0) <= 1e-8);
        const double taken = p.take_off_l_per_h * volume_at_20c::density(p.abw) / 1000.0;
        CHECK(std::abs(moles_by_mass(taken, p.abw) * (1.0 + p.reflux) / vapour_kmol - 1.0) <= 1e-8);
        // What constant molal overflow leaves open between foot and head: molar latent heats within 6 %.
        CHECK(std::abs(p.condenser_kw / (heat.heating_kw - heat.loss_kw) - 1.0) <= 0.06);
    }
    const ColumnRun rate = rectify(low_wines, {8, 1.0}, heat, TakeOff::at_rate(2.5), at_drop(0.5), one_atmosphere, 9);
    for (const ColumnPoint& p : rate.points) CHECK(std::abs(p.take_off_l_per_h - 2.5) <= 1e-9);
    const ColumnRun strength = rectify(low_wines, {12, 1.0}, heat, TakeOff::at_strength(0.94, 12.0), {}, one_atmosphere, 9);
    double before = 0.0;
    for (const ColumnPoint& p : strength.points) {
        CHECK(std::abs(p.abv - 0.94) <= 1e-12);
        CHECK(p.reflux > before);
        before = p.reflux;
    }
    CHECK(std::abs(before - 12.0) <= 1e-6);
}

TEST_CASE("column: liquid on the plates", "[still][column]") {
    const Column column{6, 3.0};
    const ColumnRun run = rectify(low_wines, column, heat, TakeOff::at_reflux(4.0), at_drop(0.7), one_atmosphere);
    // The profile at total reflux, plate by plate on the solved equilibrium: the vapour of a plate is as strong as the liquid of the plate above.
    double w = run.equilibrated.head_abw;
    double sum = 0.0;
    for (int k = 0; k < column.plates; ++k) {
        w = wash_vapour::dew_point(w, atmosphere).liquid;
        sum += w;
    }
    CHECK(std::abs(run.equilibrated.abw - sum / column.plates) <= 1e-7);
    CHECK(std::abs(run.equilibrated.pot_abw - wash_vapour::dew_point(w, atmosphere).liquid) <= 1e-7);
    // It is stronger than the charge, so the pot is weaker; and less can be had before the drop falls to the same strength.
    CHECK(run.equilibrated.abw > low_wines.abw);
    CHECK(run.equilibrated.pot_abw < low_wines.abw);
    CHECK(std::abs(run.equilibrated.share_of_ethanol - 3.0 * run.equilibrated.abw / 12.5) <= 1e-12);
    const ColumnRun empty = rectify(low_wines, {6, 0.0}, heat, TakeOff::at_reflux(4.0), at_drop(0.7), one_atmosphere);
    CHECK(run.distillate_ethanol_kg < empty.distillate_ethanol_kg);
    CHECK(std::isnan(empty.equilibrated.abw));
    CHECK(empty.equilibrated.ethanol_kg == 0.0);
    CHECK(std::abs(empty.equilibrated.pot_abw - low_wines.abw) <= 1e-12);
    // What runs back is in the residue, which is stronger than the pot.
    CHECK(run.residue_abw > run.at_end.pot_abw);
    CHECK(run.at_end.abw < run.equilibrated.abw);
}

TEST_CASE("column: it stops at the first condition that comes true", "[still][column]") {
    const auto run_to = [](const ColumnStop& stop) { return rectify(low_wines, {8, 1.0}, heat, TakeOff::at_reflux(3.0), stop, one_atmosphere, 5); };
    const ColumnRun drop = run_to(at_drop(0.6));
    CHECK(drop.reason == stop_reason::distillate_strength);
    CHECK(std::abs(drop.points.back().abv - 0.6) <= 1e-8);
    const ColumnRun pot = run_to(at_pot(0.05));
    CHECK(pot.reason == stop_reason::pot_strength);
    CHECK(std::abs(pot.points.back().pot_abv - 0.05) <= 1e-9);
    ColumnStop volume;
    volume.collected_l = 8.0;
    const ColumnRun eight = run_to(volume);
    CHECK(eight.reason == stop_reason::collected_volume);
    CHECK(std::abs(eight.distillate_l - 8.0) <= 1e-9);
    CHECK(std::abs(eight.distillate_l * eight.distillate_abv * volume_at_20c::ethanol_density / 1000.0 - eight.distillate_ethanol_kg) <= 1e-9);
    ColumnStop share;
    share.recovered_share = 0.9;
    const ColumnRun most = run_to(share);
    CHECK(most.reason == stop_reason::recovered_share);
    CHECK(std::abs(most.recovered_share - 0.9) <= 1e-9);
    ColumnStop rate;
    rate.rate_l_per_h = 2.0;
    const ColumnRun slow = run_to(rate);
    CHECK(slow.reason == stop_reason::take_off_rate);
    CHECK(std::abs(slow.points.back().take_off_l_per_h - 2.0) <= 1e-7);
    ColumnStop two = at_drop(0.6);
    two.collected_l = 8.0;
    CHECK(run_to(two).reason == stop_reason::collected_volume);
    CHECK(run_to(two).distillate_kg == eight.distillate_kg);
    // A rate that is too fast for the weak end takes the whole boil-up.
    const ColumnRun fast = rectify(low_wines, {8, 1.0}, heat, TakeOff::at_rate(5.0), at_pot(0.001), one_atmosphere, 5);
    CAPTURE(fast.points.back().reflux);
    CHECK(fast.reason == stop_reason::no_reflux_left);
    CHECK(fast.points.back().reflux < 0.01);
}

TEST_CASE("column: weak and strong charges, few and many plates, much and little reflux", "[still][column]") {
    ColumnStop stop;
    stop.recovered_share = 0.7;
    for (const double w : {0.01, 0.30, 0.93}) {
        for (const Column& column : {Column{1, 0.0}, Column{6, 2.0}, Column{30, 0.5}}) {
            for (const double reflux : {0.2, 3.0, 30.0}) {
                const ColumnCharge charge{50.0, w};
                const ColumnRun run = rectify(charge, column, heat, TakeOff::at_reflux(reflux), stop, 60.0 * kilopascal, 3);
                CAPTURE(w, column.plates, reflux);
                const double ethanol = charge.mass_kg * w;
                CHECK(std::abs(run.distillate_ethanol_kg + run.residue_ethanol_kg - ethanol) <= closure * ethanol);
                CHECK(std::abs(run.recovered_share - 0.7) <= 1e-9);
                CHECK(run.points.front().abw >= run.points.back().abw);
            }
        }
    }
}

TEST_CASE("column: the curve does not depend on how many points are asked for", "[still][column]") {
    const ColumnRun few = rectify(low_wines, {8, 1.0}, heat, TakeOff::at_reflux(3.0), at_drop(0.5), one_atmosphere, 3);
    const ColumnRun many = rectify(low_wines, {8, 1.0}, heat, TakeOff::at_reflux(3.0), at_drop(0.5), one_atmosphere, 101);
    REQUIRE(few.points.size() == 3);
    REQUIRE(many.points.size() == 101);
    CHECK(std::abs(few.points[1].pot_abw - many.points[50].pot_abw) <= 1e-8);
    CHECK(std::abs(few.points[1].time_h - many.points[50].time_h) <= 1e-7);
    CHECK(std::abs(few.time_h - many.time_h) <= 1e-6);
}

// ---- setting the reflux ----

TEST_CASE("column: reflux of a partial condenser from its coolant", "[still][column]") {
    const PartialCondenser measured{120.0, 15.0, 28.0, 78.3};
    const double power = 2.7;
    const auto setting = reflux_of_partial_condenser(measured, power);
    // 120 L/h that warm by 13 K: 120 * 0.9982 * 4.18 * 13/3600 = 1.81 kW, within 1 % of the heat capacity.
    CHECK(std::abs(setting.condenser_kw / 1.81 - 1.0) <= 0.01);
    CHECK(std::abs(setting.reflux - setting.condenser_kw / (power - setting.condenser_kw)) <= 1e-12);
    // The sensitivity by difference: a condenser of the same transfer at another flow.
    const double span = measured.vapour_c - measured.inlet_c;
    const double transfer = -std::log(1.0 - (measured.outlet_c - measured.inlet_c) / span) * measured.coolant_l_per_h;
    const auto taken = [&](const double ln_flow) {
        const double flow = std::exp(ln_flow);
        const double per_degree = setting.condenser_kw / (measured.coolant_l_per_h * (measured.outlet_c - measured.inlet_c));
        return std::log(power - per_degree * flow * span * (1.0 - std::exp(-transfer / flow)));
    };
    CHECK(std::abs(setting.take_off_per_coolant - central_difference(taken, std::log(measured.coolant_l_per_h))) <= 1e-8);
    CHECK(setting.take_off_per_coolant < 0.0);
    CHECK(std::abs(setting.take_off_per_power - power / (power - setting.condenser_kw)) <= 1e-12);
    // A valve does not mind the coolant.
    const auto valve = reflux_of_divider(0.25);
    CHECK(valve.reflux == 3.0);
    CHECK(valve.take_off_per_coolant == 0.0);
    check_refused([] { reflux_of_divider(0.0); }, "share taken off 0 % must be more than 0 %");
    check_refused([] { reflux_of_divider(1.5); }, "share taken off 150 % is outside 0 to 100 %");
    check_refused([&] { reflux_of_partial_condenser(measured, 1.0); }, "heat of the coolant 1.8");
    check_refused([] { reflux_of_partial_condenser({120.0, 15.0, 80.0, 78.3}, 2.7); }, "coolant outlet temperature 80 degC is outside 15 to 78.3 degC");
    CHECK_THROWS_AS(reflux_of_partial_condenser({120.0, 15.0, 15.0, 78.3}, 2.7), InputError);
    CHECK_THROWS_AS(reflux_of_partial_condenser({120.0, not_a_number, 15.0, 78.3}, 2.7), InputError);
}

// ---- refusals ----

TEST_CASE("column: no column gets past the azeotrope", "[still][column]") {
    const auto run_to = [](const double strength, const double kpa) {
        return rectify(low_wines, {40, 0.0}, heat, TakeOff::at_strength(strength, 50.0), {}, kpa * kilopascal);
    };
    const std::string message = range_error([&] { run_to(0.98, 101.325); });
    CAPTURE(message);
    CHECK(begins(message, "distillate 98 % vol is not below the azeotrope, 97.2"));
    CHECK(message.find("azeotrope") != std::string::npos);
    CHECK(message.find("101.325 kPa") != std::string::npos);
    // It lies higher at lower pressure: the same strength is then only a matter of plates.
    const double between = 0.5 * (volume_at_20c::from_abw(wash_vapour::azeotrope(101325.0).abw) + volume_at_20c::from_abw(wash_vapour::azeotrope(25e3).abw));
    CHECK_THROWS_AS(run_to(between, 101.325), ferment::RangeError);
    CHECK(run_to(between, 25.0).distillate_kg > 0.0);
    check_refused(
        [] {
            rectify({50.0, 0.97}, {4, 0.0}, heat, TakeOff::at_reflux(2.0), at_pot(0.5), one_atmosphere);
        },
        "charge 98.12054762 % vol is not below the azeotrope");
    check_refused([] { minimum_reflux(10.0 * percent_mass, 97.0 * percent_mass, one_atmosphere); }, "distillate 98.12054762 % vol is not below the azeotrope");
}

TEST_CASE("column: wrong input is refused by name", "[still][column]") {
    const auto with = [](const ColumnCharge& charge, const Column& column, const ColumnHeat& power, const TakeOff& way, const ColumnStop& stop,
                         const int points = 5) { return rectify(charge, column, power, way, stop, one_atmosphere, points); };
    const TakeOff three = TakeOff::at_reflux(3.0);
    const ColumnStop stop = at_drop(0.5);
    check_refused([&] { with({0.0, 0.25}, {4, 0.0}, heat, three, stop); }, "mass of the charge 0 kg must be more than 0 kg");
    check_refused([&] { with({50.0, 1.25}, {4, 0.0}, heat, three, stop); }, "abw of the charge 125 % mass is outside 0 to 100 % mass");
    check_refused([&] { with({50.0, 0.0}, {4, 0.0}, heat, three, stop); }, "abw of the charge 0 % mass must be more than 0 % mass");
    CHECK_THROWS_AS(with({not_a_number, 0.25}, {4, 0.0}, heat, three, stop), InputError);
    check_refused([&] { with(low_wines, {-1, 0.0}, heat, three, stop); }, "plates -1 is outside 0 to 200");
    check_refused([&] { with(low_wines, {4, 50.0}, heat, three, stop); }, "hold-up 50 kg must be less than the charge, 50 kg");
    CHECK_THROWS_AS(with(low_wines, {0, 1.0}, heat, three, stop), InputError);
    check_refused([&] { with(low_wines, {4, 0.0}, {1.0, 1.0, 0.0}, three, stop); }, "heat loss 1 kW must be less than the heating power, 1 kW");
    check_refused([&] { with(low_wines, {4, 0.0}, {3.0, 0.0, -1.0}, three, stop); }, "time of equilibration -1 h must be at least 0 h");
    check_refused([&] { with(low_wines, {4, 0.0}, heat, TakeOff::at_reflux(-1.0), stop); }, "reflux ratio -1 must be at least 0");
    CHECK_THROWS_AS(with(low_wines, {4, 0.0}, heat, TakeOff::at_reflux(infinity), stop), InputError);
    check_refused([&] { with(low_wines, {4, 0.0}, heat, TakeOff::at_rate(30.0), stop); }, "take-off 30 L/h is not below what boils up, ");
    check_refused([&] { with(low_wines, {4, 0.0}, heat, TakeOff::at_strength(0.5, 5.0), stop); }, "distillate 50 % vol is weaker than what the pot of 30.4");
    CHECK_THROWS_AS(with(low_wines, {4, 0.0}, heat, TakeOff::at_strength(0.95, 1.0), {}), SolveError);
    CHECK_THROWS_AS(with(low_wines, {4, 0.0}, heat, three, {}), InputError);
    CHECK_THROWS_AS(with(low_wines, {4, 0.0}, heat, three, at_drop(0.99)), InputError);  // at once
    CHECK_THROWS_AS(with(low_wines, {4, 0.0}, heat, three, stop, 1), ferment::RangeError);
    ColumnStop too_much;
    too_much.collected_l = 60.0;
    CHECK_THROWS_AS(with(low_wines, {4, 0.0}, heat, three, too_much), SolveError);
    check_refused([&] { rectify(low_wines, {4, 0.0}, heat, three, stop, 10.0 * kilopascal); }, "pressure 10 kPa is outside 20 to 110 kPa");
    CHECK_THROWS_AS(rectify(low_wines, {4, 0.0}, heat, three, stop, not_a_number * kilopascal), InputError);
    CHECK_THROWS_AS(minimum_reflux(5.0 * percent_mass, 20.0 * percent_mass, not_a_number * kilopascal), InputError);
    CHECK_THROWS_AS(stages_at_total_reflux(not_a_number * percent_mass, 20.0 * percent_mass, one_atmosphere), InputError);
    CHECK_THROWS_AS(minimum_reflux(50.0 * percent_mass, 20.0 * percent_mass, one_atmosphere), InputError);
}
