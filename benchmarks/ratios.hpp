// Ratios of times that hold on a noisy machine, and the tables that show them.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstddef>
#include <iomanip>
#include <ostream>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include <benchmark/benchmark.h>

namespace tranche_benchmark {

[[nodiscard]] inline double median(std::vector<double> values) {
    std::sort(values.begin(), values.end());
    const std::size_t n = values.size();
    return 0.5 * (values[(n - 1) / 2] + values[n / 2]); // of an even number, half way between the two in the middle
}

template <class F>
[[nodiscard]] double seconds(const F& f) {
    const auto before = std::chrono::steady_clock::now();
    benchmark::DoNotOptimize(f());
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - before).count();
}

/// Median of time(f) / time(g) over rounds of one call each, one right after the other and each first in turn: what else
/// the machine does hits both alike.
template <class F, class G>
[[nodiscard]] double ratio(const F& f, const G& g, int rounds) {
    std::vector<double> ratios;
    for (int i = 0; i < rounds; ++i) {
        double tf = 0.0, tg = 0.0;
        if (i % 2 == 0) tf = seconds(f);
        tg = seconds(g);
        if (i % 2 != 0) tf = seconds(f);
        ratios.push_back(tf / tg);
    }
    return median(std::move(ratios));
}

/// Median times of several functions, called in turn.
template <class F>
[[nodiscard]] std::vector<double> times_in_turn(const std::vector<F>& functions, int rounds) {
    std::vector<std::vector<double>> samples(functions.size());
    for (int i = 0; i < rounds; ++i)
        for (std::size_t k = 0; k < functions.size(); ++k) samples[k].push_back(seconds(functions[k]));
    std::vector<double> medians;
    for (auto& s : samples) medians.push_back(median(std::move(s)));
    return medians;
}

/// Of some times: the one in the middle, and those a quarter of the way from either end.
struct spread_of_times {
    double low, middle, high;
};
/// Of several functions, called in turn.
template <class F>
[[nodiscard]] std::vector<spread_of_times> spreads_in_turn(const std::vector<F>& functions, int rounds) {
    std::vector<std::vector<double>> samples(functions.size());
    for (int i = 0; i < rounds; ++i)
        for (std::size_t k = 0; k < functions.size(); ++k) samples[k].push_back(seconds(functions[k]));
    std::vector<spread_of_times> spreads;
    for (auto& s : samples) {
        std::sort(s.begin(), s.end());
        spreads.push_back({s[s.size() / 4], median(s), s[s.size() - 1 - s.size() / 4]});
    }
    return spreads;
}

/// Slope of the least-squares line through (log x, log y): y grows as x to this power.
[[nodiscard]] inline double exponent(const std::vector<double>& x, const std::vector<double>& y) {
    double mx = 0.0, my = 0.0, xy = 0.0, xx = 0.0;
    const auto n = static_cast<double>(x.size());
    for (std::size_t i = 0; i < x.size(); ++i) {
        mx += std::log(x[i]) / n;
        my += std::log(y[i]) / n;
    }
    for (std::size_t i = 0; i < x.size(); ++i) {
        xy += (std::log(x[i]) - mx) * (std::log(y[i]) - my);
        xx += (std::log(x[i]) - mx) * (std::log(x[i]) - mx);
    }
    return xy / xx;
}

[[nodiscard]] inline std::string number(double value, int digits) {
    std::ostringstream out;
    out << std::fixed << std::setprecision(digits) << value;
    return out.str();
}
/// Three significant digits.
[[nodiscard]] inline std::string times(double value) { return number(value, value < 10 ? 2 : value < 100 ? 1 : 0); }

class table {
public:
    table(std::string title, std::vector<std::string> heads) : title_(std::move(title)) { add(std::move(heads)); }
    void add(std::vector<std::string> row) { rows_.push_back(std::move(row)); }
    void print(std::ostream& out, bool markdown) const {
        std::vector<std::size_t> widths(rows_.front().size());
        for (const auto& row : rows_)
            for (std::size_t c = 0; c < row.size(); ++c) widths[c] = std::max(widths[c], row[c].size());
        out << '\n' << (markdown ? "### " : "") << title_ << "\n\n";
        for (std::size_t r = 0; r < rows_.size(); ++r) {
            out << (markdown ? "| " : "");
            for (std::size_t c = 0; c < widths.size(); ++c)
                out << (c == 0 ? std::left : std::right) << std::setw(static_cast<int>(widths[c])) << rows_[r][c]
                    << (c + 1 < widths.size() ? markdown ? " | " : "  "
                        : markdown            ? " |\n"
                                              : "\n");
            if (r > 0 || !markdown) continue;
            for (std::size_t c = 0; c < widths.size(); ++c)
                out << (c == 0 ? "| " : " ") << std::string(widths[c] - (c > 0), '-') << (c > 0 ? ": |" : " |");
            out << '\n';
        }
    }

private:
    std::string title_;
    std::vector<std::vector<std::string>> rows_;
};

} // namespace tranche_benchmark
