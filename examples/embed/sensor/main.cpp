// sensor [FILE] [KEY=VALUE...]: says of every reading of a floating hydrometer where the fermentation stands.
//
// In, on standard input, a line for each reading, three numbers between blanks:
//
//   hours since pitching, gravity as the float shows it, temperature of the wash in degC
//
// Out, at once, a JSON object a line (JSON Lines): the answer of ferment::check to all readings up to this one, or {"error": ..., "line": ...} for a
// line that is no such reading, which is then left out. A key ends in its unit; gravities are 20/20; probabilities run from 0 to 1; p5, p50 and p95
// are the quantiles of what is still possible; null stands for "not within four weeks". Empty lines and lines that begin with # are passed over.
//
// The batch is described by KEY=VALUE, in a file, a line each, or as arguments, which count last: see `settings` and `Batch::set`. It must have
// grain_kg (NAME as ferment::grain knows it; as often as there are sacks), water_kg and yeast_kg.
//
// Exit code: 0, or 1 where a line was refused, 2 where the command line or the batch is wrong, 3 where the output cannot be written.
#include <array>
#include <charconv>
#include <cmath>
#include <cstddef>
#include <cstdio>
#include <ferment/fermentation/check.hpp>
#include <ferment/instrument/hydrometer.hpp>
#include <ferment/mash.hpp>
#include <fstream>
#include <iostream>
#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <system_error>
#include <utility>
#include <vector>

namespace {

using ferment::InputError;

constexpr double percent = 100.0;
constexpr std::string_view blanks = " \t\r\v\f";

std::string_view trimmed(const std::string_view text) {
    const std::size_t first = text.find_first_not_of(blanks);
    return first == std::string_view::npos ? std::string_view{} : text.substr(first, text.find_last_not_of(blanks) - first + 1);
}

/// Cuts the first word off a text.
std::string_view next_word(std::string_view& text) {
    text = trimmed(text);
    const std::string_view word = text.substr(0, text.find_first_of(blanks));
    text = trimmed(text.substr(word.size()));
    return word;
}

/// Reads a finite number, whatever the locale; the whole text must be that number.
double number(const std::string_view what, const std::string_view text) {
    if (text.empty()) throw InputError(std::string(what) + " is missing");
    double value = 0.0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc{} || end != text.data() + text.size() || !std::isfinite(value)) {
        constexpr std::size_t shown = 40;
        throw InputError(std::string(what) + " \"" + std::string(text.substr(0, shown)) + "\" is not a finite number");
    }
    return value;
}

/// What the program knows of the batch and of the float.
struct Settings {
    ferment::Bill bill;
    ferment::Inoculum inoculum;
    double water_kg = 0.0;
    double mash_c = 20.0;  // at pitching
    double ambient_c = 20.0;
    double ambient_swing_c = 0.0;  // warmest less mean of the day
    double warmest_hour = 15.0;    // after pitching
    double heat_transfer_w_m2_k = ferment::Vessel::bare;
    double hydrometer_c = 20.0;  // what the float's scale is made for
    double expansion_per_k = ferment::conventional_glass_expansion;
    double corrected_by_float = 0.0;  // 1: the float gives the gravity at 20 degC itself
    double gravity_uncertainty = 0.001;
    double temperature_uncertainty_c = 0.5;
    double every = 1.0;  // one reading in so many is answered; those between are checked, but tell nothing new
    double members = ferment::usual_members;
};

struct Setting {
    std::string_view key;
    double Settings::*value;
    double least, most;  // the library checks the others
};
constexpr double any = std::numeric_limits<double>::infinity();
constexpr std::array<Setting, 13> settings{{
    {"water_kg", &Settings::water_kg, -any, any},
    {"mash_c", &Settings::mash_c, -any, any},
    {"ambient_c", &Settings::ambient_c, -any, any},
    {"ambient_swing_c", &Settings::ambient_swing_c, -any, any},
    {"warmest_hour", &Settings::warmest_hour, -any, any},
    {"heat_transfer_w_m2_k", &Settings::heat_transfer_w_m2_k, -any, any},
    {"hydrometer_c", &Settings::hydrometer_c, -any, any},
    {"expansion_per_k", &Settings::expansion_per_k, -any, any},
    {"corrected_by_float", &Settings::corrected_by_float, 0.0, 1.0},
    {"gravity_uncertainty", &Settings::gravity_uncertainty, 1e-5, 0.1},
    {"temperature_uncertainty_c", &Settings::temperature_uncertainty_c, 0.01, 10.0},
    {"every", &Settings::every, 1.0, 1e6},
    {"members", &Settings::members, 2.0, 1e5},
}};

/// Takes in one KEY=VALUE.
void set(Settings& of, const std::string_view line) {
    const std::size_t equals = line.find('=');
    if (equals == std::string_view::npos) {
        throw InputError("\"" + std::string(line) + "\" is not KEY=VALUE");
    }
    const std::string_view key = trimmed(line.substr(0, equals));
    std::string_view value = trimmed(line.substr(equals + 1));
    if (key == "grain_kg") {
        const double kg = number(key, next_word(value));
        of.bill.add(ferment::grain(value), kg * ferment::kilogram);
    } else if (key == "yeast_kg") {
        of.inoculum.yeast_kg = number(key, value);
    } else if (key == "enzyme_dose") {
        of.inoculum.enzyme_dose = number(key, value);
    } else if (key == "nutrients") {
        of.inoculum.nutrients = number(key, value);
    } else {
        for (const Setting& known : settings) {
            if (known.key != key) continue;
            of.*known.value = number(key, value);
            ferment::require_inside(key, of.*known.value, "", {known.least, known.most}, "see the head of main.cpp");
            return;
        }
        throw InputError("unknown key \"" + std::string(key) + "\"");
    }
}

Settings read_settings(const int count, const char* const* const arguments) {
    Settings found;
    for (int i = 1; i < count; ++i) {
        const std::string argument = arguments[i];
        if (argument.find('=') != std::string::npos) {
            set(found, argument);
            continue;
        }
        std::ifstream file(argument);
        if (!file) throw InputError("cannot read " + argument);
        std::string line;
        for (int n = 1; std::getline(file, line); ++n) {
            const std::string_view content = trimmed(std::string_view(line).substr(0, line.find('#')));
            if (content.empty()) continue;
            try {
                set(found, content);
            } catch (const ferment::Error& error) {
                throw InputError(argument + ", line " + std::to_string(n) + ": " + error.what());
            }
        }
    }
    return found;
}

ferment::Fermentation fermentation_of(const Settings& s) {
    const ferment::Potential can_give = ferment::potential(s.bill, s.water_kg * ferment::kilogram, ferment::no_cook::assumptions());
    ferment::Conditions conditions;
    conditions.mash_c = s.mash_c;
    conditions.ambient = ferment::Ambient::day_night(s.ambient_c, s.ambient_swing_c, s.warmest_hour);
    conditions.vessel.heat_transfer = s.heat_transfer_w_m2_k;
    return ferment::Fermentation::of(s.bill, can_give, s.inoculum, conditions);
}

/// Text as a JSON string. Bytes beyond ASCII, which may be no UTF-8 at all, become the replacement character.
std::string json_text(const std::string_view text) {
    std::string out = "\"";
    for (const char c : text) {
        const auto code = static_cast<unsigned char>(c);
        if (c == '"' || c == '\\') {
            out += '\\';
            out += c;
        } else if (code < 0x20 || code == 0x7f) {
            std::array<char, 8> escape{};
            std::snprintf(escape.data(), escape.size(), "\\u%04x", static_cast<unsigned>(code));
            out += escape.data();
        } else if (code > 0x7f) {
            out += "\\ufffd";
        } else {
            out += c;
        }
    }
    return out + '"';
}

/// A number as JSON has it: digits after the point, or null for what is no number there.
std::string rounded(const double value, const int digits) {
    if (!std::isfinite(value)) return "null";
    std::array<char, 400> text{};  // the largest double has 309 digits before the point
    std::snprintf(text.data(), text.size(), "%.*f", digits, value);
    return text.data();
}

std::string interval(const ferment::Spread& s, const double scale, const int digits) {
    return R"({"p5": )" + rounded(scale * s[0], digits) + R"(, "p50": )" + rounded(scale * s[2], digits) + R"(, "p95": )" + rounded(scale * s[4], digits) + "}";
}

/// The object of one line.
class JsonLine {
public:
    JsonLine& add(const std::string_view key, const std::string& value) {
        line_ += (line_.empty() ? "{" : ", ") + json_text(key) + ": " + value;
        return *this;
    }
    [[nodiscard]] std::string done() const { return line_ + "}"; }

private:
    std::string line_;
};

/// One batch and its readings so far.
class Watch {
public:
    explicit Watch(const Settings& s)
        : settings_(s),
          fermentation_(fermentation_of(s)),
          float_(ferment::hydrometer_scale::specific_gravity, s.hydrometer_c * ferment::degree_celsius, s.expansion_per_k) {}

    /// The answer to a line of input; none for a reading in between. Throws ferment::Error for a line that is no reading, which then changes nothing.
    std::optional<std::string> answer(std::string_view line) {
        const double hours = number("hours", next_word(line));
        const double gravity = number("gravity", next_word(line));
        const double temperature_c = number("temperature", next_word(line));
        if (!line.empty()) throw InputError("a reading is three numbers: hours, gravity and degC; there is more on the line");
        if (hours < latest_h_) {
            throw InputError("hours " + ferment::format_number(hours) + " lie before those of the last reading, " + ferment::format_number(latest_h_));
        }
        const double true_gravity = at_20c(gravity, temperature_c);
        if (waiting_ + 1.0 < settings_.every && !readings_.empty()) {
            waiting_ += 1.0;
            latest_h_ = hours;
            return std::nullopt;
        }
        std::vector<ferment::Reading> all = readings_;
        ferment::Reading& now = all.emplace_back();
        now.time_h = hours;
        now.gravity = ferment::measured{true_gravity, settings_.gravity_uncertainty};
        now.temperature = ferment::measured{temperature_c, settings_.temperature_uncertainty_c};
        const ferment::Check c = ferment::check(fermentation_, all, static_cast<std::size_t>(settings_.members));
        readings_ = std::move(all);
        waiting_ = 0.0;
        latest_h_ = hours;
        strength_ = c.abv[2];

        ferment::Spread end_day = c.days_to_finish;
        for (double& day : end_day) day += hours / ferment::hours_per_day;
        JsonLine json;
        json.add("hours", rounded(hours, 3)).add("gravity", rounded(gravity, 4)).add("temperature_c", rounded(temperature_c, 2));
        json.add("gravity_at_20c", rounded(true_gravity, 4));
        json.add("conversion_percent", interval(c.conversion, percent, 1)).add("abv_percent", interval(c.abv, percent, 2));
        json.add("stands", json_text(to_string(c.stands))).add("stands_probability", rounded(c.probability[static_cast<std::size_t>(c.stands)], 3));
        json.add("because", json_text(to_string(c.because))).add("because_probability", rounded(c.cause_probability[static_cast<std::size_t>(c.because)], 3));
        json.add("end_gravity", interval(c.end_gravity, 1.0, 4)).add("end_abv_percent", interval(c.end_abv, percent, 2));
        json.add("end_day", interval(end_day, 1.0, 1)).add("look_again_hours", rounded(c.look_again_h, 0));
        json.add("says", json_text(c.says)).add("warning", c.warning.empty() ? "null" : json_text(c.warning));
        return json.done();
    }

private:
    /// The float's gravity corrected for the temperature; how strong the wash is, which steers its expansion, is known from the last answer.
    [[nodiscard]] double at_20c(const double gravity, const double temperature_c) const {
        if (settings_.corrected_by_float != 0.0) return gravity;
        const ferment::SampleWash wash{ferment::SampleWash::known::strength, strength_};
        return float_.correct(gravity, temperature_c * ferment::degree_celsius, wash).gravity.value();
    }

    Settings settings_;
    ferment::Fermentation fermentation_;
    ferment::Hydrometer float_;
    std::vector<ferment::Reading> readings_;  // those answered
    double latest_h_ = 0.0;
    double waiting_ = 0.0;   // readings since the last answer
    double strength_ = 0.0;  // of the wash at the last answer, volume fraction
};

enum exit_code { all_answered = 0, some_refused = 1, wrong_batch = 2, cannot_write = 3 };

}  // namespace

int main(const int count, const char* const* const arguments) {
    std::optional<Watch> watch;
    try {
        watch.emplace(read_settings(count, arguments));
    } catch (const ferment::Error& error) {
        std::cerr << "sensor: " << error.what() << '\n';
        return wrong_batch;
    }
    exit_code code = all_answered;
    std::string line;
    for (long n = 1; std::getline(std::cin, line); ++n) {
        const std::string_view content = trimmed(line);
        if (content.empty() || content.front() == '#') continue;
        std::optional<std::string> said;
        try {
            said = watch->answer(content);
        } catch (const ferment::Error& error) {
            said = JsonLine().add("error", json_text(error.what())).add("line", std::to_string(n)).done();
            code = some_refused;
        }
        if (said) std::cout << *said << std::endl;  // at once: somebody is waiting at the other end
        if (!std::cout) {
            std::cerr << "sensor: cannot write\n";
            return cannot_write;
        }
    }
    return code;
}
