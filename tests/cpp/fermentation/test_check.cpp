#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <ferment/fermentation/check.hpp>
#include <numeric>
#include <string>
#include <utility>
#include <vector>

#include "readings.hpp"

using namespace ferment;
using namespace ferment_test;

namespace {

constexpr std::size_t few = 60;  // members

const cause_model& model_of(const cause c) {
    return cause_models[static_cast<std::size_t>(c)];
}

double probability(const Check& c, const cause of) {
    return c.cause_probability[static_cast<std::size_t>(of)];
}
double probability(const Check& c, const standing of) {
    return c.probability[static_cast<std::size_t>(of)];
}

/// The batch as it runs where this is the cause, at the medians of the cause.
std::vector<Reading> read_under(const Fermentation& f, const cause c, const std::vector<double>& hours, const Instruments& with) {
    return readings_of(detail::under(f, model_of(c)), hours, with);
}

template <std::size_t N>
double sum(const std::array<double, N>& p) {
    return std::accumulate(p.begin(), p.end(), 0.0);
}

/// What every answer has to keep, whatever it is.
void consistent(const Check& c, const Reading& last) {
    CAPTURE(c.says, c.warning);
    CHECK(c.time_h == last.time_h);
    CHECK(std::abs(sum(c.probability) - 1.0) <= 1e-12);
    CHECK(std::abs(sum(c.cause_probability) - 1.0) <= 1e-12);
    for (const double p : c.probability) CHECK((p >= 0.0 && p <= 1.0 + 1e-12));
    for (const double p : c.cause_probability) CHECK((p >= 0.0 && p <= 1.0 + 1e-12));
    CHECK(probability(c, c.stands) == *std::max_element(c.probability.begin(), c.probability.end()));
    CHECK(probability(c, c.because) == *std::max_element(c.cause_probability.begin(), c.cause_probability.end()));
    for (const Spread* s : {&c.conversion, &c.abv, &c.gravity, &c.days_to_finish, &c.end_gravity, &c.end_abv}) CHECK(std::is_sorted(s->begin(), s->end()));
    CHECK(c.conversion.front() >= 0.0);
    CHECK(c.conversion.back() <= 1.0);
    CHECK(c.days_to_finish.front() >= 0.0);
    CHECK(c.end_abv[2] >= c.abv[2]);
    // Look again in one to four days.
    CHECK(c.look_again_h >= last.time_h + 24.0);
    CHECK(c.look_again_h <= last.time_h + 96.0);
    std::size_t measured_things = 0;
    for (const auto* x : {&last.gravity, &last.temperature, &last.co2_lost}) measured_things += x->has_value() ? 1 : 0;
    CHECK(c.expected.size() == measured_things);
    for (const Expected& e : c.expected) CHECK(std::is_sorted(e.range.begin(), e.range.end()));
    CHECK(c.says.rfind(std::string(to_string(c.stands)) + " (", 0) == 0);
    CHECK(holds(c.says, " % of the starch dissolved ("));
    CHECK(holds(c.says, std::string("most likely ") + std::string(to_string(c.because))) == (c.because != cause::as_planned));
}

bool same(const Check& a, const Check& b) {
    if (a.expected.size() != b.expected.size()) return false;
    for (std::size_t i = 0; i < a.expected.size(); ++i) {
        if (a.expected[i].range != b.expected[i].range || a.expected[i].z != b.expected[i].z) return false;
    }
    return a.conversion == b.conversion && a.abv == b.abv && a.gravity == b.gravity && a.probability == b.probability &&
           a.cause_probability == b.cause_probability && a.days_to_finish == b.days_to_finish && a.end_gravity == b.end_gravity && a.end_abv == b.end_abv &&
           a.look_again_h == b.look_again_h && a.says == b.says && a.warning == b.warning;
}

}  // namespace

TEST_CASE("causes: one row for each, in the order of their index", "[fermentation][check]") {
    double all = 0.0;
    for (std::size_t i = 0; i < cause_models.size(); ++i) {
        CHECK(static_cast<std::size_t>(cause_models[i].what) == i);
        CHECK(to_string(cause_models[i].what) != "unknown");
        all += cause_models[i].before;
    }
    CHECK(std::abs(all - 1.0) <= 1e-12);
    for (const standing s : {standing::on_course, standing::slow, standing::stopped, standing::finished}) CHECK(to_string(s) != "unknown");
    CHECK(to_string(static_cast<cause>(99)) == "unknown");
    CHECK(to_string(static_cast<standing>(99)) == "unknown");

    // Each shifts one parameter on its own scale, and only that.
    const Fermentation f = trade_batch(steady(20.0));
    for (const cause_model& m : cause_models) {
        const Fermentation other = detail::under(f, m);
        CAPTURE(std::string(to_string(m.what)));
        for (std::size_t i = 0; i < kinetic::count; ++i) {
            CHECK((other.priors[i].median == f.priors[i].median) == (i != m.parameter));
            if (i != m.parameter) CHECK(other.priors[i].spread == f.priors[i].spread);
        }
    }
    const auto median = [&](const cause c, const kinetic::index i) { return detail::under(f, model_of(c)).priors[i].median; };
    CHECK(median(cause::cold, kinetic::ambient_offset) == -6.0);                                       // K
    CHECK(std::abs(median(cause::under_pitched, kinetic::pitched_activity) - 0.15 * 0.8) <= 1e-15);    // a factor
    CHECK(std::abs(median(cause::enzyme_limited, kinetic::hydrolysis_rate) - 0.25 * 0.058) <= 1e-15);  // a factor
    CHECK(std::abs(median(cause::yeast_stopped, kinetic::ethanol_tolerance) - 40.0) <= 1e-12);         // a factor of one quarter
    CHECK(std::abs(median(cause::enzyme_spent, kinetic::enzyme_decay) - 0.045) <= 1e-12);              // a factor of 30
    CHECK(std::abs(median(cause::starch_exhausted, kinetic::conversion_limit) - 0.60) <= 0.01);        // on the odds
    CHECK(detail::under(f, model_of(cause::starch_exhausted)).priors[kinetic::conversion_limit].spread == model_of(cause::starch_exhausted).spread);
}

TEST_CASE("check: a batch that runs as planned", "[fermentation][check]") {
    for (const double celsius : {18.0, 25.0}) {
        const Fermentation f = trade_batch(steady(celsius));
        const std::vector<Reading> readings = read_under(f, cause::as_planned, {24.0, 48.0, 72.0}, hydrometer_and_scale);
        const Check c = check(f, readings, few);
        consistent(c, readings.back());
        CAPTURE(celsius, c.says);
        CHECK(c.stands == standing::on_course);
        CHECK(c.because == cause::as_planned);
        CHECK(probability(c, standing::on_course) > 0.9);
        CHECK(probability(c, cause::as_planned) > model_of(cause::as_planned).before);
        CHECK(c.warning.empty());
        REQUIRE(c.expected.size() == 2);
        CHECK(c.expected[0].what == "gravity");
        CHECK(c.expected[1].what == "co2_lost");
        for (const Expected& e : c.expected) {
            CAPTURE(std::string(e.what), e.read, e.range.front(), e.range.back(), e.z);
            CHECK(e.range.front() <= e.read);
            CHECK(e.read <= e.range.back());
            CHECK(std::abs(e.z) < 1.0);
        }
        // The answer holds the truth.
        const WashState truth = simulate(f, {72.0}).at[0];
        const double done_h = simulate(f, {1000.0}).done_h;
        const auto inside = [](const Spread& s, const double x) { return s.front() <= x && x <= s.back(); };
        CHECK(inside(c.conversion, truth.conversion));
        CHECK(inside(c.abv, truth.abv));
        CHECK(inside(c.gravity, truth.gravity));
        CHECK(inside(c.days_to_finish, (done_h - 72.0) / 24.0));
        CHECK(inside(c.end_gravity, simulate(f, {72.0 + 28.0 * 24.0}).at[0].gravity));
        CHECK(c.gravity.back() - c.gravity.front() < 0.006);  // three readings to a point each
        CHECK(holds(c.says, "on course ("));
        CHECK(holds(c.says, "more day"));
    }
}

TEST_CASE("check: the first reading against the plan alone", "[fermentation][check]") {
    const Fermentation f = trade_batch(steady(20.0));
    std::vector<Reading> readings = readings_of(f, {36.0}, all_instruments);
    const Check c = check(f, readings, few);
    consistent(c, readings.back());
    REQUIRE(c.expected.size() == 3);
    CHECK(c.expected[0].what == "gravity");
    CHECK(c.expected[1].what == "temperature");
    CHECK(c.expected[2].what == "co2_lost");
    for (const Expected& e : c.expected) CHECK(std::abs(e.z) <= 1.0);
    // An iodine test alone is a reading as well; nothing measured is expected of it.
    const Check iodine = check(f, {iodine_read(36.0, true)}, few);
    consistent(iodine, iodine_read(36.0, true));
    CHECK(iodine.expected.empty());
    CHECK(iodine.stands == standing::on_course);
    // Before any sugar is taken nothing has stopped, it has not begun.
    const Check start = check(f, {temperature_read(0.0, 20.0)}, few);
    consistent(start, temperature_read(0.0, 20.0));
    CHECK(start.stands == standing::on_course);
}

TEST_CASE("check: a wash that is done", "[fermentation][check]") {
    const Fermentation f = trade_batch(steady(20.0));
    std::vector<Reading> readings = read_under(f, cause::as_planned, {24.0, 72.0, 168.0, 312.0}, hydrometer_only);
    readings.back().iodine = false;
    const Check c = check(f, readings, few);
    consistent(c, readings.back());
    CAPTURE(c.says);
    CHECK(c.stands == standing::finished);
    CHECK(probability(c, standing::finished) > 0.9);
    CHECK(c.days_to_finish[2] == 0.0);
    CHECK(c.look_again_h == 312.0 + 24.0);
    CHECK(std::abs(c.end_gravity[2] - c.gravity[2]) <= 2e-4);
    CHECK(holds(c.says, "finished ("));
    CHECK(!holds(c.says, "more day"));
    // Still dark then: done it is not, or not so surely.
    readings.back().iodine = true;
    const Check dark = check(f, readings, few);
    consistent(dark, readings.back());
    CHECK(probability(dark, standing::finished) < probability(c, standing::finished));
}

TEST_CASE("check: what goes wrong becomes more probable where it does", "[fermentation][check]") {
    const Fermentation f = trade_batch(steady(20.0));
    const std::vector<double> hours{24.0, 48.0, 96.0};
    const Check planned = check(f, read_under(f, cause::as_planned, hours, hydrometer_and_scale), few);
    for (const cause what : {cause::cold, cause::under_pitched, cause::enzyme_limited, cause::starch_exhausted}) {
        const std::vector<Reading> readings = read_under(f, what, hours, hydrometer_and_scale);
        const Check c = check(f, readings, few);
        consistent(c, readings.back());
        CAPTURE(c.says, probability(c, what));
        CHECK(probability(c, what) > 2.0 * model_of(what).before);
        CHECK(probability(c, what) > 5.0 * probability(planned, what));
        CHECK(probability(c, cause::as_planned) < probability(planned, cause::as_planned));
        CHECK(c.warning.empty());
        // Of the causes that are not the plan it is the most probable.
        for (const cause other : {cause::cold, cause::under_pitched, cause::enzyme_limited, cause::starch_exhausted, cause::reading_error}) {
            if (other != what) CHECK(probability(c, other) < probability(c, what));
        }
    }
    // A mash colder than was said is as good as proven by its thermometer, and 0.22 probable without: slower for many reasons.
    const Check cold = check(f, read_under(f, cause::cold, hours, all_instruments), few);
    CHECK(cold.because == cause::cold);
    CHECK(probability(cold, cause::cold) > 0.99);
    CHECK(holds(cold.says, "most likely colder than was said ("));
    // Little enzyme takes longer than nine in ten of such batches.
    const Check slow = check(f, read_under(f, cause::enzyme_limited, hours, hydrometer_and_scale), few);
    CHECK(slow.stands == standing::slow);
    CHECK(slow.because == cause::enzyme_limited);
    CHECK(holds(slow.says, "slow ("));
    CHECK(holds(slow.says, "most likely enzyme-limited ("));
    CHECK(slow.days_to_finish[2] > planned.days_to_finish[2]);
    CHECK(slow.look_again_h > planned.look_again_h);
    // What ends early is weaker.
    const Check early = check(f, read_under(f, cause::starch_exhausted, {24.0, 48.0, 96.0, 168.0}, hydrometer_and_scale), few);
    CHECK(early.because == cause::starch_exhausted);
    CHECK(early.end_abv[2] < 0.85 * planned.end_abv[2]);
}

TEST_CASE("check: one gravity reading ten points off", "[fermentation][check]") {
    const Fermentation f = trade_batch(steady(20.0));
    const std::vector<Reading> exact = read_under(f, cause::as_planned, {24.0, 48.0, 72.0, 96.0}, hydrometer_and_scale);
    for (const std::size_t wrong : {std::size_t{1}, std::size_t{3}}) {
        for (const double off : {-0.010, 0.010}) {
            std::vector<Reading> readings = exact;
            readings[wrong].gravity->value += off;
            const Check c = check(f, readings, few);
            consistent(c, readings.back());
            CAPTURE(wrong, off, c.says);
            CHECK(c.because == cause::reading_error);
            CHECK(probability(c, cause::reading_error) > 0.9);
            CHECK(holds(c.says, "most likely reading error ("));
            CHECK(c.warning.empty());
            // Nothing else follows from it: the wash is believed to be where it is.
            CHECK(c.stands == standing::on_course);
            CHECK(std::abs(c.gravity[2] - exact.back().gravity->value) <= 2e-3);
            if (wrong == 3) {
                CHECK(c.expected[0].what == "gravity");
                CHECK(c.expected[0].z * off > 0.0);
                CHECK(std::abs(c.expected[0].z) > 3.0);
                CHECK(std::abs(c.expected[1].z) < 2.0);
            }
        }
    }
}

TEST_CASE("check: yeast that has stopped with sugar standing", "[fermentation][check]") {
    // Yeast that bears only so much ethanol: from then on gravity stands, or rises as enzymes go on.
    for (const double tolerance : {10.0, 20.0, 30.0, 40.0}) {
        Fermentation stuck = trade_batch(steady(20.0));
        stuck.set_prior("ethanol_tolerance", tolerance, 0.02);
        const std::vector<Reading> readings = readings_of(stuck, {24.0, 48.0, 96.0, 144.0}, hydrometer_and_scale);
        CAPTURE(tolerance, readings[2].gravity->value, readings[3].gravity->value);
        CHECK(readings[3].gravity->value >= readings[2].gravity->value);
        // Said of the batch beforehand, it is seen for what it is.
        const Check known = check(stuck, readings, few);
        consistent(known, readings.back());
        CAPTURE(known.says);
        CHECK(known.stands == standing::stopped);
        CHECK(known.days_to_finish[2] == infinite);
        CHECK(holds(known.says, "stopped ("));
        CHECK(holds(known.says, "not done within four weeks"));
        CHECK(known.look_again_h == 144.0 + 96.0);
        // Of ordinary yeast it is not expected, but it is among the causes.
        const Check unknown = check(trade_batch(steady(20.0)), readings, few);
        consistent(unknown, readings.back());
        CAPTURE(unknown.says);
        CHECK(unknown.stands == standing::stopped);
        CHECK(unknown.because == cause::yeast_stopped);
        CHECK(holds(unknown.says, "most likely yeast stopped early ("));
        CHECK(std::abs(unknown.expected[0].z) < 1.0);  // the readings before have said so already
    }
}

TEST_CASE("check: enzymes that have stopped", "[fermentation][check]") {
    // All sugar is taken, starch is left and the iodine test stays dark.
    const auto read = [](const double decay) {
        Fermentation dead = trade_batch(steady(20.0));
        dead.set_prior("enzyme_decay", decay, 0.02);
        std::vector<Reading> readings = readings_of(dead, {24.0, 48.0, 96.0, 144.0}, hydrometer_and_scale);
        readings[2].iodine = true;
        readings[3].iodine = true;
        return std::pair(dead, readings);
    };
    const Fermentation usual = trade_batch(steady(20.0));
    // With half of them gone in seven hours it is slow, said beforehand or not.
    const auto [fading, slow] = read(0.1);
    for (const Fermentation* f : {&fading, &usual}) {
        const Check c = check(*f, slow, few);
        consistent(c, slow.back());
        CAPTURE(c.says);
        CHECK(c.stands == standing::slow);
    }
    // With all of them gone on the first day it has stopped.
    const auto [dead, stopped] = read(1.0);
    CAPTURE(stopped[2].gravity->value, stopped[3].gravity->value);
    CHECK(std::abs(stopped[3].gravity->value - stopped[2].gravity->value) <= 1e-3);
    const Check known = check(dead, stopped, few);
    consistent(known, stopped.back());
    CAPTURE(known.says);
    CHECK(known.stands == standing::stopped);
    // Of ordinary enzymes that is eight spreads away; the dark iodine tests tell it from a want of starch.
    const Check unknown = check(usual, stopped, few);
    consistent(unknown, stopped.back());
    CAPTURE(unknown.says);
    CHECK(unknown.stands == standing::stopped);
    CHECK(unknown.because == cause::enzyme_spent);
    std::vector<Reading> yellow = stopped;
    yellow[2].iodine = false;
    yellow[3].iodine = false;
    const Check exhausted = check(usual, yellow, few);
    CAPTURE(exhausted.says);
    CHECK(exhausted.because == cause::starch_exhausted);
}

TEST_CASE("check: readings that neither the plan nor any cause explains", "[fermentation][check]") {
    const Fermentation f = trade_batch(steady(20.0));
    std::vector<Reading> readings{gravity_read(96.0, simulate(f, {96.0}).at[0].gravity)};
    readings[0].temperature = measured{40.0, 0.2};  // in air of 20 degC
    const Check c = check(f, readings, few);
    consistent(c, readings.back());
    CHECK(holds(c.warning, "the readings contradict the model"));
    CHECK(holds(c.warning, "furthest off is temperature at 96 h, read 40 where "));
    CHECK(c.expected[1].z > 3.0);
    CHECK(holds(c.says, "but the readings contradict the model"));
}

TEST_CASE("check: the same seed gives the same answer", "[fermentation][check]") {
    const Fermentation f = trade_batch(steady(18.0));
    const std::vector<Reading> readings = read_under(f, cause::under_pitched, {24.0, 60.0}, hydrometer_only);
    const Check c = check(f, readings, few, 5);
    CHECK(same(c, check(f, readings, few, 5)));
    const Check other = check(f, readings, few, 6);
    CHECK(!same(c, other));
    CHECK(c.cause_probability == other.cause_probability);  // a cause is weighed, not drawn
    // A reading to come is not looked at, one that was taken is.
    CHECK(c.expected[0].range != check(f, {readings.back()}, few, 5).expected[0].range);
}

TEST_CASE("check: late in a year", "[fermentation][check]") {
    // The look ahead ends where courses do.
    const Fermentation f = trade_batch(steady(20.0));
    const std::vector<Reading> readings{gravity_read(8760.0, simulate(f, {8760.0}).at[0].gravity)};
    const Check c = check(f, readings, 10);
    CHECK(c.stands == standing::finished);
    CHECK(std::abs(sum(c.probability) - 1.0) <= 1e-12);
}

TEST_CASE("forecast: with readings", "[fermentation][check][forecast]") {
    const Fermentation f = trade_batch(steady(20.0));
    const std::vector<double> hours{24.0, 96.0, 336.0};
    const Forecast before = forecast(f, hours, Belief{}, few);
    const std::vector<Reading> readings = read_under(f, cause::as_planned, {24.0, 48.0}, hydrometer_and_scale);
    const Forecast after = forecast_with_readings(f, hours, readings, few);
    CHECK(after.members == few);
    CHECK(after.time_h == hours);
    const auto width = [](const Spread& s) { return s.back() - s.front(); };
    for (std::size_t i = 0; i < hours.size(); ++i) {
        CAPTURE(hours[i], width(before.gravity[i]), width(after.gravity[i]));
        CHECK(std::is_sorted(after.gravity[i].begin(), after.gravity[i].end()));
        CHECK(width(after.gravity[i]) <= width(before.gravity[i]));
        const double truth = simulate(f, {hours[i]}).at[0].gravity;
        CHECK(after.gravity[i].front() <= truth);
        CHECK(truth <= after.gravity[i].back());
    }
    CHECK(width(after.gravity[0]) < 0.006);  // it was read then
    CHECK(width(after.gravity[1]) < 0.5 * width(before.gravity[1]));
    const Forecast again = forecast_with_readings(f, hours, readings, few);
    CHECK(again.gravity == after.gravity);
    CHECK(again.done_h == after.done_h);
    CHECK(forecast_with_readings(f, hours, readings, few, 9).done_h != after.done_h);
    // It is the mixture that a check draws from: the same members, the same gravity at the same time, to the tolerance of their courses (1e-6): other
    // times asked for, other steps.
    const Check c = check(f, readings, few);
    const Forecast there = forecast_with_readings(f, {48.0}, readings, few);
    for (std::size_t i = 0; i < c.gravity.size(); ++i) {
        CHECK(std::abs(there.gravity[0][i] - c.gravity[i]) <= 1e-7);
        CHECK(std::abs(there.conversion[0][i] - c.conversion[i]) <= 1e-6);
    }
    // A cold batch is later than planned.
    CHECK(forecast_with_readings(f, hours, read_under(f, cause::cold, {24.0, 48.0}, all_instruments), few).done()[2] > after.done()[2]);
}

TEST_CASE("check: wrong input is refused", "[fermentation][check]") {
    const Fermentation f = trade_batch(steady(20.0));
    const auto input = [](const auto& call) { return message_of<InputError>(call); };
    const auto range = [](const auto& call) { return message_of<RangeError>(call); };
    const std::vector<Reading> good{gravity_read(24.0, 1.045)};
    CHECK(holds(input([&] { check(f, {}, few); }), "there is no reading to check; give at least one"));
    CHECK(holds(range([&] { check(f, good, 1); }), "members 1"));
    CHECK(holds(range([&] { check(f, good, 10000001); }), "2 to 10000000"));
    CHECK(holds(range([&] { check(f, {gravity_read(24.0, 0.5)}, few); }), "gravity 0.5 SG 20/20"));
    CHECK(holds(input([&] { check(f, {gravity_read(24.0, 1.04), gravity_read(20.0, 1.04)}, few); }), "must not go backwards in time"));
    CHECK(holds(input([&] { check(f, {gravity_read(24.0, 1.04, 0.0)}, few); }), "must be a number above zero"));
    CHECK(holds(input([&] { forecast_with_readings(f, {}, good, few); }), "give at least one time"));
    CHECK(holds(range([&] { forecast_with_readings(f, {24.0}, good, 1); }), "members 1"));
    CHECK(holds(range([&] { forecast_with_readings(f, {24.0}, {gravity_read(24.0, 0.5)}, few); }), "gravity 0.5 SG 20/20"));
}
