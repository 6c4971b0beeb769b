#pragma once
// Reads the published tables of tests/reference: '#' lines are the citation, the first other line names the columns.

#include <cstddef>
#include <fstream>
#include <limits>
#include <map>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

namespace ferment_test {

class Row {
public:
    Row(std::map<std::string, std::string> cells, std::size_t line) : cells_(std::move(cells)), line_(line) {}
    [[nodiscard]] const std::string& text(const std::string& column) const {
        const auto found = cells_.find(column);
        if (found == cells_.end()) throw std::runtime_error("no column " + column);
        return found->second;
    }
    [[nodiscard]] bool has(const std::string& column) const { return !text(column).empty(); }
    /// The cell as a number; throws where it is none.
    [[nodiscard]] double number(const std::string& column) const {
        std::size_t used = 0;
        const std::string& cell = text(column);
        const double x = std::stod(cell, &used);
        if (used != cell.size()) throw std::runtime_error("column " + column + ", line " + std::to_string(line_) + ": not a number: " + cell);
        return x;
    }
    [[nodiscard]] std::size_t line() const { return line_; }

private:
    std::map<std::string, std::string> cells_;
    std::size_t line_;
};

inline std::vector<std::string> split_line(const std::string& line) {
    std::vector<std::string> cells(1);
    bool quoted = false;
    for (const char c : line) {
        if (c == '"') {
            quoted = !quoted;
        } else if (c == ',' && !quoted) {
            cells.emplace_back();
        } else if (c != '\r') {
            cells.back().push_back(c);
        }
    }
    return cells;
}

/// All rows of tests/reference/<name>; throws where the file is missing or has no rows, so that no test passes on nothing.
inline std::vector<Row> read_table(const std::string& name) {
    const std::string path = std::string(FERMENT_REFERENCE_DIR) + "/" + name;
    std::ifstream in(path);
    if (!in) throw std::runtime_error("cannot open " + path);
    std::vector<std::string> columns;
    std::vector<Row> rows;
    std::string line;
    for (std::size_t number = 1; std::getline(in, line); ++number) {
        if (line.empty() || line[0] == '#') continue;
        const std::vector<std::string> cells = split_line(line);
        if (columns.empty()) {
            columns = cells;
            continue;
        }
        if (cells.size() != columns.size()) throw std::runtime_error(name + " line " + std::to_string(number) + ": wrong number of cells");
        std::map<std::string, std::string> named;
        for (std::size_t i = 0; i < cells.size(); ++i) named[columns[i]] = cells[i];
        rows.emplace_back(std::move(named), number);
    }
    if (rows.empty()) throw std::runtime_error(name + " has no rows");
    return rows;
}

}  // namespace ferment_test
