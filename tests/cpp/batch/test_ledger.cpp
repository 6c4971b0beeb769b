#include <algorithm>
#include <cmath>
#include <ferment/batch/ledger.hpp>
#include <ferment/mash/grain_table.hpp>
#include <functional>
#include <limits>
#include <random>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

#include "catch.hpp"
#include "csv.hpp"

using namespace ferment;
using ferment_test::read_table;
using P = batch_place;

namespace {

Uncertain litres(const double value, const double u, const char* name = "litres") {
    return Uncertain::input(value, u, name);
}

LedgerStart ten_litres(const double u = 0.3) {
    return {litres(10.0, u, "potential"), 25.0, litres(22.0, 0.2, "dry matter")};
}

LedgerRow row_of(const Ledger& ledger, const ledger_line line, const P place) {
    for (const LedgerRow& r : ledger.rows()) {
        if (r.line == line && r.place == place) return r;
    }
    throw std::runtime_error("no such row");
}

bool has_row(const Ledger& ledger, const ledger_line line, const P place) {
    for (const LedgerRow& r : ledger.rows()) {
        if (r.line == line && r.place == place) return true;
    }
    return false;
}

/// A whole batch with round figures, all sizes times `scale`.
Ledger whole_batch(const double scale = 1.0) {
    const auto l = [&](const double value, const double u, const char* name) { return litres(scale * value, scale * u, name); };
    Ledger ledger(LedgerStart{l(10.0, 0.3, "potential"), scale * 25.0, l(22.0, 0.2, "dry matter")});
    ledger.expect(P::wash, l(8.5, 0.4, "wash"), "hoped for").measure(P::wash, l(8.2, 0.1, "wash"));
    ledger.measure(P::off_the_grain, l(6.6, 0.1, "off the grain"), "cloth press").measure(P::low_wines, l(6.3, 0.05, "low wines"));
    ledger.measure(P::stripping_pot, l(0.2, 0.02, "pot"));
    ledger.bring_in(P::hearts, l(0.8, 0.02, "tails in"), "tails of the run before");
    ledger.measure(P::fore_shots, l(0.1, 0.01, "fore-shots")).measure(P::heads, l(0.6, 0.02, "heads"));
    ledger.measure(P::hearts, l(5.0, 0.05, "hearts")).measure(P::tails, l(1.0, 0.02, "tails"));
    ledger.take_out(P::tails, l(0.7, 0.02, "tails out"), "to the next run");
    ledger.measure(P::bottles, l(4.8, 0.02, "bottles")).measure(P::rest, l(0.15, 0.01, "rest"));
    return ledger;
}

std::string message_of(const std::function<void()>& call) {
    try {
        call();
    } catch (const Error& e) {
        return e.what();
    }
    return "nothing was thrown";
}

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();
constexpr double infinity = std::numeric_limits<double>::infinity();

}  // namespace

TEST_CASE("ledger: the ends are the start and what came in, whatever was recorded", "[batch]") {
    std::mt19937 random(20240607);
    std::uniform_real_distribution<double> size(0.0, 12.0);
    std::uniform_int_distribution<int> choice(0, 3);
    std::size_t with_findings = 0;
    std::size_t without_findings = 0;
    for (int batch = 0; batch < 2000; ++batch) {
        Ledger ledger(ten_litres());
        double came_in = 0.0;
        for (const detail::batch_place_facts& f : detail::batch_places) {
            if (f.place == P::potential) continue;
            const int what = choice(random);
            if (what & 1) ledger.expect(f.place, litres(size(random), 0.1));
            if (what & 2) ledger.measure(f.place, litres(size(random), 0.1));
            if (choice(random) == 0) ledger.take_out(f.place, litres(0.2 * size(random), 0.1));
            if (f.line == ledger_line::stage && choice(random) == 0) {
                const double in = size(random);
                ledger.bring_in(f.place, litres(in, 0.1));
                came_in += in;
            }
        }
        const LedgerBalance b = ledger.balance();
        CAPTURE(batch);
        // Predictions in proportion can be large where little had been hoped for: relative to the largest line.
        double largest = 1.0;
        for (const LedgerRow& r : ledger.rows()) largest = std::max(largest, std::abs(r.litres.value()));
        CHECK(std::abs(b.difference_l.value()) <= 1e-12 * largest);
        CHECK(b.difference_l.standard_uncertainty() <= 1e-12 * largest);
        CHECK(std::abs(b.came_in_l.value() - came_in) <= 1e-12 * 60.0);
        double ended = 0.0;
        for (const LedgerRow& r : ledger.ends()) ended += r.litres.value();
        CHECK(std::abs(ended - 10.0 - came_in) <= 1e-11 * largest);
        (ledger.findings().empty() ? without_findings : with_findings) += 1;
    }
    CHECK(with_findings > 100);
    CHECK(without_findings > 10);
}

TEST_CASE("ledger: a whole batch, line by line", "[batch]") {
    const Ledger ledger = whole_batch();
    const auto remainder = [&](const P stage) { return row_of(ledger, ledger_line::remainder, stage); };
    const auto is = [](const Uncertain& x, const double value, const double u) {
        return std::abs(x.value() - value) <= 1e-12 && std::abs(x.standard_uncertainty() - u) <= 1e-12;
    };
    CHECK(is(remainder(P::wash).litres, 1.8, std::hypot(0.3, 0.1)));
    CHECK(remainder(P::wash).name == "not converted, other products");
    CHECK(is(remainder(P::off_the_grain).litres, 1.6, std::hypot(0.1, 0.1)));
    CHECK(remainder(P::off_the_grain).name == "kept by the grain");
    CHECK(is(remainder(P::low_wines).litres, 0.1, std::sqrt(0.01 + 0.0025 + 0.0004)));
    CHECK(remainder(P::low_wines).name == "spilled, evaporated or not explained");
    CHECK(is(remainder(P::hearts).litres, 0.4, std::sqrt(0.0025 + 0.0004 + 0.0001 + 0.0004 + 0.0025 + 0.0004)));
    CHECK(remainder(P::hearts).name == "left in the spirit pot");
    CHECK(is(remainder(P::bottles).litres, 0.05, std::sqrt(0.0025 + 0.0004 + 0.0001)));
    CHECK(remainder(P::bottles).name == "spilled, evaporated or not explained");
    CHECK(is(row_of(ledger, ledger_line::set_aside, P::tails).litres, 0.3, std::hypot(0.02, 0.02)));
    CHECK(is(row_of(ledger, ledger_line::taken_out, P::tails).litres, 0.7, 0.02));
    CHECK(is(row_of(ledger, ledger_line::came_in, P::hearts).litres, 0.8, 0.02));
    CHECK(is(row_of(ledger, ledger_line::in_hand, P::bottles).litres, 4.8, 0.02));
    CHECK(row_of(ledger, ledger_line::lost, P::fore_shots).share.value() == 0.1 / 10.0);
    const LedgerRow wash = row_of(ledger, ledger_line::stage, P::wash);
    CHECK(wash.basis == ledger_basis::measured);
    REQUIRE(wash.expected.has_value());
    CHECK(wash.expected->value() == 8.5);
    CHECK(ledger.findings().empty());
    for (const LedgerRow& r : ledger.losses()) {
        CHECK((r.line == ledger_line::lost || r.line == ledger_line::taken_out || r.line == ledger_line::remainder));
    }
    CHECK(ledger.losses().size() == 8);  // 5 remainders, stripping pot, fore-shots, tails taken out
    CHECK(ledger.ends().size() == 12);   // and heads, tails, rest, bottles
}

TEST_CASE("ledger: figures that share a doubt make sharper losses", "[batch]") {
    Bill bill;
    bill.add(grain("hulless oats"), 12.0 * kilogram).add(grain("rye"), 8.0 * kilogram);
    const Potential p = potential(bill, 60.0 * kilogram, no_cook::assumptions());
    const WaterBalance water = water_balance(bill, p);
    const Ledger ledger(p, water);
    const auto naive = [](const Uncertain& a, const Uncertain& b) { return std::hypot(a.standard_uncertainty(), b.standard_uncertainty()); };
    const Uncertain wash = *ledger.content(P::wash);
    const Uncertain free = *ledger.content(P::off_the_grain);
    CHECK(wash.value() == p.expected.pure_alcohol_l.value());
    CHECK(row_of(ledger, ledger_line::remainder, P::wash).litres.standard_uncertainty() < 0.8 * naive(p.theoretical.pure_alcohol_l, wash));
    CHECK(row_of(ledger, ledger_line::remainder, P::off_the_grain).litres.standard_uncertainty() < 0.8 * naive(wash, free));
    CHECK(std::abs(free.value() / wash.value() - water.free_share.value()) <= 1e-12);
    CHECK(ledger.findings().empty());
    const LedgerYield y = ledger.yield_at(P::wash);
    // The doubt of the starch is in both and cancels: the share doubts as conversion and efficiency do.
    CHECK(std::abs(y.share_of_theoretical.value() - no_cook::overall().value) <= 0.005);
    CHECK(y.share_of_theoretical.standard_uncertainty() / y.share_of_theoretical.value() < y.litres.standard_uncertainty() / y.litres.value());
    CHECK(std::abs(ledger.yield_at(P::potential).litres_per_tonne.value() - p.theoretical.bill.pure_alcohol_l_per_tonne.value()) <= 1e-9);
    CHECK(std::abs(ledger.yield_at(P::potential).litres_per_tonne_dry.value() - p.theoretical.bill.pure_alcohol_l_per_tonne_dry.value()) <= 1e-9);
    // One independent measurement is not sharper than it is.
    Ledger measured_wash = ledger;
    measured_wash.measure(P::wash, measured{6.0, 0.1});
    CHECK(std::abs(row_of(measured_wash, ledger_line::remainder, P::wash).litres.standard_uncertainty() -
                   std::hypot(0.1, p.theoretical.pure_alcohol_l.standard_uncertainty())) <= 1e-12);
}

TEST_CASE("ledger: after a measurement, expectations keep their share", "[batch]") {
    Ledger ledger(ten_litres());
    ledger.expect(P::wash, 8.0).expect(P::off_the_grain, 6.0).expect(P::kept_by_grain, 2.0);
    CHECK(ledger.content(P::off_the_grain)->value() == 6.0);
    CHECK(row_of(ledger, ledger_line::lost, P::kept_by_grain).litres.value() == 2.0);
    ledger.measure(P::wash, measured{4.0, 0.1});
    CHECK(std::abs(ledger.content(P::off_the_grain)->value() - 3.0) <= 1e-15);
    CHECK(std::abs(ledger.content(P::off_the_grain)->standard_uncertainty() - 0.075) <= 1e-15);
    CHECK(std::abs(row_of(ledger, ledger_line::lost, P::kept_by_grain).litres.value() - 1.0) <= 1e-15);
    // What comes in on the way is part of what the expectation was made for.
    Ledger fed(ten_litres());
    fed.expect(P::low_wines, 6.0).expect(P::hearts, 4.0).bring_in(P::hearts, 2.0).measure(P::low_wines, Uncertain(4.0));
    CHECK(std::abs(fed.content(P::hearts)->value() - 3.0) <= 1e-15);  // 4 of 8 expected, so 3 of 6
    // What was taken out of the measured stage is not there to go on.
    Ledger tapped(ten_litres());
    tapped.expect(P::low_wines, 6.0).expect(P::hearts, 4.0).take_out(P::low_wines, 2.0).measure(P::low_wines, Uncertain(4.0));
    CHECK(std::abs(tapped.content(P::hearts)->value() - 2.0) <= 1e-15);  // 4 of 4 expected, so 2 of 2
    // An expected side place gives way when the stage after it is measured.
    ledger.measure(P::off_the_grain, measured{3.4, 0.1});
    CHECK_FALSE(has_row(ledger, ledger_line::lost, P::kept_by_grain));
    const LedgerRow kept = row_of(ledger, ledger_line::remainder, P::off_the_grain);
    CHECK(std::abs(kept.litres.value() - 0.6) <= 1e-15);
    CHECK(kept.name == "kept by the grain");
    REQUIRE(kept.expected.has_value());
    CHECK(std::abs(kept.expected->value() - 1.0) <= 1e-15);
    CHECK(ledger.findings().empty());
    // Taken back, the expectation stands again.
    ledger.forget(P::off_the_grain).forget(P::wash);
    CHECK(ledger.content(P::off_the_grain)->value() == 6.0);
}

TEST_CASE("ledger: impossible entries are reported with their size", "[batch]") {
    SECTION("more after than before") {
        Ledger ledger(ten_litres());
        ledger.measure(P::wash, measured{7.0, 0.06}).measure(P::off_the_grain, measured{7.5, 0.08});
        const std::vector<LedgerFinding> found = ledger.findings();
        REQUIRE(found.size() == 1);
        CHECK(found[0].conflict == ledger_conflict::impossible);
        CHECK(found[0].before == P::wash);
        CHECK(found[0].after == P::off_the_grain);
        CHECK(std::abs(found[0].excess_l.value() - 0.5) <= 1e-12);
        CHECK(std::abs(found[0].standard_uncertainties - 5.0) <= 1e-11);
        CHECK(found[0].message ==
              "impossible: from in the wash to off the grain: 7.500 L after, 7.000 L before; 0.500 L (5.0 standard uncertainties) too much");
        CHECK(std::abs(row_of(ledger, ledger_line::remainder, P::off_the_grain).litres.value() + 0.5) <= 1e-12);  // not hidden
        CHECK(ledger.findings(5.1).empty());
        CHECK(ledger.findings(4.9).size() == 1);
        CHECK(ledger.sheet().find(found[0].message) != std::string::npos);
    }
    SECTION("within two standard uncertainties nothing is said") {
        Ledger ledger(ten_litres());
        ledger.measure(P::wash, measured{7.0, 0.3}).measure(P::off_the_grain, measured{7.5, 0.4});
        CHECK(ledger.findings().empty());
    }
    SECTION("without doubt, round-off is no finding") {
        Ledger ledger(ten_litres(0.0));
        ledger.measure(P::wash, Uncertain(0.3)).measure(P::off_the_grain, Uncertain(0.1)).measure(P::kept_by_grain, Uncertain(0.2));
        CHECK(ledger.findings().empty());
        ledger.forget(P::kept_by_grain).measure(P::kept_by_grain, Uncertain(0.20001));
        REQUIRE(ledger.findings().size() == 1);
        CHECK(std::isinf(ledger.findings()[0].standard_uncertainties));
    }
    SECTION("a doubtful expectation between two measurements hides nothing") {
        Ledger ledger(ten_litres());
        ledger.measure(P::wash, measured{8.0, 0.1}).expect(P::off_the_grain, litres(7.5, 1.0)).measure(P::low_wines, measured{8.6, 0.1});
        const std::vector<LedgerFinding> found = ledger.findings();
        REQUIRE(found.size() == 1);
        CHECK(found[0].before == P::wash);
        CHECK(found[0].after == P::low_wines);
        CHECK(std::abs(found[0].standard_uncertainties - 0.6 / std::sqrt(0.02)) <= 1e-11);
        // Nor does an expected side place.
        ledger.expect(P::kept_by_grain, litres(0.5, 1.0));
        REQUIRE(ledger.findings().size() == 1);
        CHECK(std::abs(ledger.findings()[0].standard_uncertainties - 0.6 / std::sqrt(0.02)) <= 1e-11);
    }
    SECTION("of nested pairs only the narrowest is reported") {
        Ledger ledger(ten_litres());
        ledger.measure(P::wash, measured{7.0, 0.05}).measure(P::off_the_grain, measured{8.0, 0.05}).measure(P::low_wines, measured{7.9, 0.05});
        REQUIRE(ledger.findings().size() == 1);
        CHECK(ledger.findings()[0].after == P::off_the_grain);
    }
    SECTION("a contradicted expectation is called one") {
        Ledger ledger(ten_litres());
        ledger.measure(P::wash, measured{8.0, 0.1}).expect(P::off_the_grain, litres(6.0, 0.1)).measure(P::low_wines, measured{7.0, 0.1});
        REQUIRE(ledger.findings().size() == 1);
        CHECK(ledger.findings()[0].conflict == ledger_conflict::against_expectation);
        CHECK(ledger.findings()[0].before == P::off_the_grain);
    }
    SECTION("what came in is no excess, and side places count") {
        Ledger ledger(ten_litres());
        ledger.measure(P::low_wines, measured{3.0, 0.05}).measure(P::hearts, measured{3.5, 0.05});
        CHECK(ledger.findings().size() == 1);
        ledger.bring_in(P::hearts, litres(1.0, 0.02));
        CHECK(ledger.findings().empty());
        ledger.measure(P::tails, measured{0.9, 0.03});
        REQUIRE(ledger.findings().size() == 1);
        CHECK(std::abs(ledger.findings()[0].excess_l.value() - 0.4) <= 1e-12);
    }
    SECTION("more taken out than there was") {
        Ledger ledger(ten_litres());
        ledger.measure(P::tails, measured{0.5, 0.03}).take_out(P::tails, litres(0.7, 0.04));
        REQUIRE(ledger.findings().size() == 1);
        CHECK(ledger.findings()[0].before == P::tails);
        CHECK(ledger.findings()[0].after == P::tails);
        CHECK(std::abs(ledger.findings()[0].standard_uncertainties - 4.0) <= 1e-11);
        Ledger bottled(ten_litres());
        bottled.measure(P::bottles, Uncertain(2.0)).take_out(P::bottles, 2.5);
        REQUIRE(bottled.findings().size() == 1);
        CHECK(std::abs(bottled.findings()[0].excess_l.value() - 0.5) <= 1e-12);
    }
}

TEST_CASE("ledger: the order of recording leaves no trace", "[batch]") {
    const Uncertain in_1 = litres(0.3, 0.01, "in");
    const Uncertain in_2 = litres(0.2, 0.01, "in");
    const std::vector<std::function<void(Ledger&)>> entries{
        [](Ledger& l) { l.expect(P::wash, litres(8.5, 0.4)); },          [](Ledger& l) { l.measure(P::wash, measured{8.0, 0.1}); },
        [](Ledger& l) { l.expect(P::off_the_grain, litres(6.5, 0.3)); }, [](Ledger& l) { l.measure(P::low_wines, measured{6.0, 0.1}); },
        [&](Ledger& l) { l.bring_in(P::hearts, in_1, "heads"); },        [&](Ledger& l) { l.bring_in(P::hearts, in_2, "tails"); },
        [](Ledger& l) { l.measure(P::hearts, measured{5.0, 0.1}); },     [](Ledger& l) { l.take_out(P::tails, 0.2, "next run"); },
        [](Ledger& l) { l.measure(P::tails, measured{0.5, 0.02}); },
    };
    std::vector<std::size_t> order(entries.size());
    for (std::size_t k = 0; k < order.size(); ++k) order[k] = k;
    std::mt19937 random(5);
    std::string first;
    for (int trial = 0; trial < 50; ++trial) {
        Ledger ledger(ten_litres());
        for (const std::size_t k : order) entries[k](ledger);
        const std::string sheet = ledger.sheet();
        if (first.empty()) first = sheet;
        CHECK(sheet == first);
        std::shuffle(order.begin(), order.end(), random);
    }
}

TEST_CASE("ledger: losses of stages that were not recorded go to the next that was", "[batch]") {
    Ledger ledger(ten_litres());
    CHECK(row_of(ledger, ledger_line::in_hand, P::potential).litres.value() == 10.0);
    ledger.measure(P::low_wines, measured{6.0, 0.1});
    const LedgerRow lost = row_of(ledger, ledger_line::remainder, P::low_wines);
    CHECK(lost.litres.value() == 4.0);
    CHECK(lost.name == "not converted, other products, kept by the grain, left in the stripping pot");
    CHECK_FALSE(has_row(ledger, ledger_line::remainder, P::off_the_grain));
    CHECK_FALSE(ledger.content(P::wash).has_value());
    // A recorded side place of a skipped stage is taken off the remainder.
    ledger.measure(P::kept_by_grain, measured{1.5, 0.1});
    CHECK(row_of(ledger, ledger_line::remainder, P::low_wines).litres.value() == 2.5);
    CHECK(row_of(ledger, ledger_line::remainder, P::low_wines).name == "not converted, other products, left in the stripping pot");
    // Filling in the stage splits the loss without changing its sum.
    ledger.measure(P::wash, measured{8.0, 0.1});
    CHECK(row_of(ledger, ledger_line::remainder, P::wash).litres.value() + row_of(ledger, ledger_line::remainder, P::low_wines).litres.value() == 2.5);
    // Taken from a stage nobody measured: still accounted for.
    Ledger skipped(ten_litres());
    skipped.take_out(P::low_wines, 1.0).measure(P::hearts, Uncertain(5.0));
    CHECK(row_of(skipped, ledger_line::remainder, P::hearts).litres.value() == 4.0);
}

TEST_CASE("ledger: twice the batch, twice the litres, the same shares", "[batch]") {
    const Ledger one = whole_batch();
    const Ledger two = whole_batch(2.0);
    const std::vector<LedgerRow> a = one.rows();
    const std::vector<LedgerRow> b = two.rows();
    REQUIRE(a.size() == b.size());
    for (std::size_t k = 0; k < a.size(); ++k) {
        CAPTURE(a[k].name);
        CHECK(a[k].name == b[k].name);
        CHECK(std::abs(b[k].litres.value() - 2.0 * a[k].litres.value()) <= 1e-12);
        CHECK(std::abs(b[k].litres.standard_uncertainty() - 2.0 * a[k].litres.standard_uncertainty()) <= 1e-12);
        CHECK(std::abs(b[k].share.value() - a[k].share.value()) <= 1e-13);
        CHECK(std::abs(b[k].share.standard_uncertainty() - a[k].share.standard_uncertainty()) <= 1e-13);
    }
    REQUIRE(one.yields().size() == two.yields().size());
    for (std::size_t k = 0; k < one.yields().size(); ++k) {
        CHECK(std::abs(one.yields()[k].litres_per_tonne.value() - two.yields()[k].litres_per_tonne.value()) <= 1e-10);
        CHECK(std::abs(one.yields()[k].litres_per_tonne_dry.value() - two.yields()[k].litres_per_tonne_dry.value()) <= 1e-10);
    }
}

TEST_CASE("ledger: yields", "[batch]") {
    const Ledger ledger = whole_batch();
    const LedgerYield wash = ledger.yield_at(P::wash);
    CHECK(std::abs(wash.litres_per_tonne.value() - 8.2 / 0.025) <= 1e-10);
    CHECK(std::abs(wash.litres_per_tonne_dry.value() - 8.2 / 0.022) <= 1e-10);
    CHECK(std::abs(wash.share_of_theoretical.value() - 0.82) <= 1e-15);
    REQUIRE(wash.of_expected.has_value());
    CHECK(std::abs(wash.of_expected->value() - 8.2 / 8.5) <= 1e-15);
    // Hearts: 0.8 L had come in, 0.7 L of tails went on to the next run.
    CHECK(std::abs(ledger.yield_at(P::hearts).litres.value() - (5.0 - 0.8 + 0.7)) <= 1e-12);
    CHECK_FALSE(ledger.yield_at(P::hearts).of_expected.has_value());
    // Recycling that feeds in what it takes out changes no yield.
    Ledger plain(ten_litres());
    plain.measure(P::hearts, Uncertain(5.0));
    Ledger even = plain;
    even.bring_in(P::hearts, 1.0).take_out(P::tails, 1.0);
    CHECK(std::abs(even.yield_at(P::hearts).litres.value() - plain.yield_at(P::hearts).litres.value()) <= 1e-15);
    CHECK(message_of([&] { static_cast<void>(plain.yield_at(P::wash)); }) == "yield: in the wash is neither measured nor expected");
    CHECK_THROWS_AS(plain.yield_at(P::tails), InputError);
}

TEST_CASE("ledger: published yields are those of the table", "[batch][published]") {
    // Sources in the header of the table and in its rows.
    for (const published_alcohol_yield& y : published_alcohol_yield_rows) {
        CAPTURE(std::string(y.material), std::string(y.process));
        bool found = false;
        for (const auto& row : read_table("grain/spirit_yield_measured.csv")) {
            if (row.text("material") != y.material || row.text("process") != y.process || row.text("basis") != "dry") continue;
            found = true;
            CHECK(row.number("value") == y.litres_per_tonne);
            CHECK((row.text("unit") == "L ethanol/t" || row.text("unit") == "L alcohol/t"));
        }
        CHECK(found);
    }
}

TEST_CASE("ledger: readings of volume and strength", "[batch]") {
    const Uncertain at_20 = pure_alcohol_of({{10.0, 0.1}, {0.30, 0.003}}, "low wines");
    CHECK(std::abs(at_20.value() - 3.0) <= 1e-12);
    CHECK(std::abs(at_20.standard_uncertainty() - 3.0 * std::hypot(0.01, 0.01)) <= 1e-12);
    REQUIRE(at_20.budget().size() == 2);
    CHECK(at_20.budget()[0].name.find("of low wines") != std::string::npos);
    // Warm, the same litres hold less: the mass is that of the spirit tables.
    const double w = volume_at_20c::to_abw(0.30);
    const double expected = 10.0 * oiml_r22::density(w, 30.0) * w / volume_at_20c::ethanol_density;
    CHECK(std::abs(pure_alcohol_of({{10.0, 0.0}, {0.30, 0.0}, 30.0}, "low wines").value() - expected) <= 1e-9);
    CHECK(expected < 3.0);
    CHECK(std::abs(pure_alcohol_of({{50.0, 0.0}, {0.08, 0.0}, 20.0, 0.03}, "wash").value() - 4.0) <= 1e-12);
    Ledger ledger(ten_litres());
    ledger.measure(P::low_wines, LiquidReading{{10.0, 0.1}, {0.30, 0.003}});
    CHECK(std::abs(ledger.content(P::low_wines)->value() - 3.0) <= 1e-12);

    CHECK(message_of([&] { ledger.measure(P::hearts, LiquidReading{{-1.0, 0.1}, {0.7, 0.0}}); }) == "volume of hearts -1 L must be a number above 0 L");
    CHECK(message_of([&] {
              ledger.measure(P::hearts, LiquidReading{{not_a_number, 0.1}, {0.7, 0.0}});
          }) == "volume of hearts is not a number; it must be a finite number of L");
    CHECK(message_of([&] {
              ledger.measure(P::hearts, LiquidReading{{1.0, 0.1}, {70.0, 0.0}});
          }).find("strength of hearts 7000 % vol is outside 0 to 100 % vol") == 0);
    CHECK(message_of([&] {
              ledger.measure(P::hearts, LiquidReading{{1.0, 0.1}, {0.7, 0.0}, 78.0});
          }).find("temperature of hearts 78 degC is outside 0 to 40 degC") == 0);
    CHECK_THROWS_AS(pure_alcohol_of({{1.0, -0.1}, {0.7, 0.0}}, "hearts"), RangeError);
    CHECK_THROWS_AS(pure_alcohol_of({{1.0, 0.1}, {0.7, infinity}}, "hearts"), InputError);
    CHECK_THROWS_AS(pure_alcohol_of({{1.0, 0.1}, {0.1, 0.0}, 20.0, 0.8}, "wash"), RangeError);
    CHECK_FALSE(ledger.content(P::hearts).has_value());  // a refused entry leaves nothing behind
}

TEST_CASE("ledger: errors name stage, value and unit", "[batch]") {
    Ledger ledger(ten_litres());
    CHECK(message_of([&] { ledger.measure(P::low_wines, Uncertain(-1.0)); }) == "measured low wines -1 L must be zero or more L of pure alcohol at 20 degC");
    CHECK(message_of([&] { ledger.measure(P::low_wines, Uncertain(not_a_number)); }) ==
          "measured low wines is not a number; it must be zero or more L of pure alcohol at 20 degC");
    CHECK(message_of([&] { ledger.expect(P::wash, Uncertain(infinity)); }) ==
          "expected in the wash is infinite; it must be zero or more L of pure alcohol at 20 degC");
    CHECK_THROWS_AS(ledger.measure(P::wash, Uncertain(-1.0)), RangeError);
    CHECK_THROWS_AS(ledger.measure(P::wash, Uncertain(not_a_number)), InputError);
    CHECK_THROWS_AS(ledger.measure(P::wash, measured{1.0, -0.1}), InputError);
    CHECK_THROWS_AS(ledger.measure(P::wash, measured{1.0, not_a_number}), InputError);
    CHECK_THROWS_AS(ledger.expect(P::wash, Uncertain::input(1.0, not_a_number, "doubt")), InputError);
    CHECK_THROWS_AS(ledger.bring_in(P::hearts, -0.1), RangeError);
    CHECK_THROWS_AS(ledger.take_out(P::tails, not_a_number), InputError);
    CHECK(message_of([&] { ledger.bring_in(P::tails, 1.0); }) ==
          "alcohol comes in on the way to wash, off_the_grain, low_wines, hearts or bottles, not to tails");
    CHECK_THROWS_AS(ledger.bring_in(P::potential, 1.0), InputError);
    CHECK_THROWS_AS(ledger.measure(P::potential, Uncertain(1.0)), InputError);
    CHECK_THROWS_AS(ledger.forget(P::potential), InputError);
    ledger.measure(P::wash, Uncertain(8.0));
    CHECK(message_of([&] { ledger.measure(P::wash, Uncertain(7.0)); }) ==
          "in the wash is measured already (8 L); forget that measurement before 7 L is entered");
    CHECK_THROWS_AS(ledger.findings(-1.0), RangeError);
    CHECK_THROWS_AS(ledger.findings(not_a_number), RangeError);
    CHECK_THROWS_AS(Ledger(LedgerStart{0.0, 25.0, 22.0}), RangeError);
    CHECK_THROWS_AS(Ledger(LedgerStart{not_a_number, 25.0, 22.0}), InputError);
    CHECK_THROWS_AS(Ledger(LedgerStart{10.0, -25.0, 22.0}), RangeError);
    CHECK_THROWS_AS(Ledger(LedgerStart{10.0, 25.0, 26.0}), RangeError);
    CHECK_THROWS_AS(Ledger(LedgerStart{10.0, infinity, 22.0}), InputError);
    for (const detail::batch_place_facts& f : detail::batch_places) {
        CHECK(batch_place_from(to_string(f.place)) == f.place);
        CHECK(detail::facts_of(f.place).place == f.place);
    }
    CHECK(message_of([] { batch_place_from("foreshots"); }).find("place of a batch \"foreshots\" is not known; known are potential, wash,") == 0);
}

TEST_CASE("ledger: copies are independent", "[batch]") {
    const Ledger original = whole_batch();
    const std::string before = original.sheet();
    Ledger copy = original;
    copy.forget(P::bottles).take_out(P::heads, 0.1);
    CHECK(original.sheet() == before);
    CHECK(copy.sheet() != before);
    copy = original;
    CHECK(copy.sheet() == before);
}

TEST_CASE("ledger: the sheet", "[batch][regression]") {
    const std::string sheet = whole_batch().sheet();
    const std::string golden = R"(Pure alcohol, L at 20 degC; +/- one standard uncertainty; share of the potential

         L      +/-        %
    10.000    0.300    100.0  potential of the grain [theoretical]
     1.800    0.316     18.0    not converted, other products [difference]
     8.200    0.100     82.0  in the wash [measured], expected 8.500 L
     1.600    0.141     16.0    kept by the grain [difference]
     6.600    0.100     66.0  off the grain [measured], cloth press
     0.200    0.020      2.0    left in the stripping pot [measured]
     0.100    0.114      1.0    spilled, evaporated or not explained [difference]
     6.300    0.050     63.0  low wines [measured]
     0.800    0.020      8.0    came in: before hearts [measured], tails of the run before
     0.100    0.010      1.0    fore-shots, thrown away [measured]
     0.600    0.020      6.0    heads [measured]
     0.300    0.028      3.0    tails [measured]
     0.700    0.020      7.0    taken out: tails [measured], to the next run
     0.400    0.079      4.0    left in the spirit pot [difference]
     5.000    0.050     50.0  hearts [measured]
     0.150    0.010      1.5    rest of the bottling [measured]
     0.050    0.055      0.5    spilled, evaporated or not explained [difference]
     4.800    0.020     48.0  bottles [measured]
     4.800    0.020     48.0    in hand: bottles [difference]

    10.000    0.300    100.0  start
     0.800    0.020      8.0  came in
    10.800    0.301    108.0  sum of the sources
     0.300    0.022      3.0  lost: grain, pots, fore-shots
     1.050    0.036     10.5  set aside: heads, tails, rest
     0.700    0.020      7.0  taken out
     3.950    0.304     39.5  differences between stages
     4.800    0.020     48.0  in hand
    10.800    0.301    108.0  sum of the ends

Yield of the grain, without what came in, with what was taken out before; L per tonne
  as weighed      +/-      dry      +/-  % theor.  % expect.
       400.0     12.0    454.5     14.2     100.0          -  potential of the grain [theoretical]
       328.0      4.0    372.7      5.7      82.0       96.5  in the wash [measured]
       264.0      4.0    300.0      5.3      66.0          -  off the grain [measured]
       252.0      2.0    286.4      3.5      63.0          -  low wines [measured]
       196.0      2.3    222.7      3.3      49.0          -  hearts [measured]
       188.0      1.4    213.6      2.5      47.0          -  bottles [measured]
Published, no-cook washes: 84.8 % of theoretical, spread 4.0
Published, dry grain in the wash, L per tonne:
    353.2  Oats, hulless (cooked, enzymes, very high gravity, 20 degC)
    317.6  Oats, hulled (cooked, enzymes, very high gravity, 20 degC)
    435.0  Wheat, UK feed (benchmark for current fuel-alcohol production)
    402.0  Barley, winter, high starch (cooked, with beta-glucanase and beta-glucosidase, 30 % solids)
    372.0  Maize (fermentation, literature value 1)
    396.0  Maize (fermentation, literature value 2)
    402.0  Maize (fermentation, literature value 3)

Findings
  none
)";
    CHECK(sheet == golden);

    // Its printed sums: the indented lines are the ends and what came in.
    std::istringstream lines(sheet);
    std::string line;
    double ends = 0.0;
    double sources = 0.0;
    for (int blank = 0; blank < 2 && std::getline(lines, line);) {
        if (line.empty()) ++blank;
        if (line.empty() || line.find(" [") == std::string::npos) continue;
        CHECK(line.size() <= 160);
        constexpr std::size_t text_starts = 28;
        const double figure = std::stod(line.substr(0, 10));
        if (line.find("came in: ") != std::string::npos || line.find("potential of") != std::string::npos) {
            sources += figure;
        } else if (line.compare(text_starts, 4, "    ") == 0) {
            ends += figure;
        }
    }
    CHECK(std::abs(sources - 10.8) <= 1e-9);
    CHECK(std::abs(ends - 10.8) <= 12 * 0.0005);
}
