// Which of several candidates to take when nobody knows what will come: best on average, at a quantile, or by regret; and its price.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <exception>
#include <optional>
#include <stdexcept>
#include <string>
#include <type_traits>
#include <utility>
#include <vector>

#include <tranche/statistics/sample_summary.hpp>
#include <tranche/study/run/each_task.hpp>
#include <tranche/study/run/executors.hpp>
#include <tranche/study/run/study_model.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/shown.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/invalid_input.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// What each candidate is worth in each scenario, more being better: worth[c][s]. None where the candidate is impossible in it.
struct scenario_table {
    std::vector<std::string> candidates{};
    std::vector<std::vector<std::optional<double>>> worth{};

    friend bool operator==(const scenario_table&, const scenario_table&) = default;
};

/// The worth of each candidate in scenarios 0, 1, ... of a seed: all candidates in the same ones (common random numbers).
/// `worth_of(candidate, scenario)` gets the place of the candidate and a `study_replicate` to draw from, and gives a double, or an
/// optional one. By an executor with several threads it is called from all of them at once; the table is the same bits. What it throws
/// comes nested in a `std::runtime_error` that names candidate and scenario. O(candidates × scenarios) calls.
template <class Worth, class Executor = serial>
[[nodiscard]] scenario_table run_scenarios(const std::vector<std::string>& candidates, std::uint32_t scenarios,
                                           const Worth& worth_of, std::uint64_t seed = 1,
                                           const Executor& executor = {}) {
    scenario_table table{candidates, std::vector<std::vector<std::optional<double>>>(
                                         candidates.size(), std::vector<std::optional<double>>(scenarios))};
    each_task(executor, scenarios, [&](std::uint64_t s) {
        for (std::size_t c = 0; c < candidates.size(); ++c) {
            try {
                table.worth[c][static_cast<std::size_t>(s)] = worth_of(c, study_replicate(seed, s));
            } catch (const std::exception& e) {
                std::throw_with_nested(std::runtime_error("candidate " + candidates[c] + " threw in scenario " +
                                                          std::to_string(s) + ": " + e.what()));
            }
        }
    });
    return table;
}

/// What a candidate comes to over all scenarios. Its figures are of the scenarios, and it is out of the choice, where it is impossible in one.
struct candidate_summary {
    std::string name{};
    std::size_t impossible = 0;                    ///< scenarios
    double mean = 0.0;                             ///< of those that are possible
    std::optional<confidence_interval> interval{}; ///< of the mean; none of fewer than two scenarios
    double at_quantile = 0.0;                      ///< what it is worth at least in all but a share of the scenarios
    double greatest_regret = 0.0; ///< how far it falls behind the best candidate of a scenario at most, and on average
    double mean_regret = 0.0;

    friend bool operator==(const candidate_summary&, const candidate_summary&) = default;
};

/// A candidate and the price of choosing it: what it is worth less, on average, than the one that is best on average.
struct chosen_candidate {
    std::size_t candidate = 0;
    double price = 0.0;                                  ///< zero or more
    std::optional<confidence_interval> price_interval{}; ///< of the paired difference; none of fewer than two scenarios

    friend bool operator==(const chosen_candidate&, const chosen_candidate&) = default;
};

struct robust_choices {
    std::vector<candidate_summary> candidates{};
    chosen_candidate on_average{}, at_quantile{}, least_regret{};

    friend bool operator==(const robust_choices&, const robust_choices&) = default;
};

namespace detail {

template <class = when_called>
TRANCHE_COLD void require_table(const scenario_table& table) {
    if (table.candidates.empty()) throw invalid_input("candidates", "none", "at least one");
    if (table.worth.size() != table.candidates.size())
        throw invalid_input("worth", std::to_string(table.worth.size()) + " rows",
                            "one a candidate, " + std::to_string(table.candidates.size()));
    for (std::size_t c = 0; c < table.worth.size(); ++c) {
        const std::vector<std::optional<double>>& row = table.worth[c];
        if (row.empty()) throw invalid_input("scenarios", "none", "at least one");
        if (row.size() != table.worth[0].size())
            throw invalid_input("worth of " + table.candidates[c], std::to_string(row.size()) + " scenarios",
                                std::to_string(table.worth[0].size()));
        for (std::size_t s = 0; s < row.size(); ++s)
            if (row[s] && !std::isfinite(*row[s]))
                throw invalid_input("worth of " + table.candidates[c] + " in scenario " + std::to_string(s),
                                    shown(*row[s]), "a finite number, or none where it is impossible");
    }
}

/// The k-th least, k the least number of values of which more than `share` × n are at or below it: at least 1 - share of all are worth as much.
[[nodiscard]] inline double low_quantile(std::vector<double> values, fraction share) {
    const auto n = static_cast<double>(values.size());
    const auto rank = static_cast<std::size_t>(std::min(n - 1.0, std::floor(share * n * (1.0 + 1e-15))));
    std::nth_element(values.begin(), values.begin() + static_cast<std::ptrdiff_t>(rank), values.end());
    return values[rank];
}

} // namespace detail

/// The candidate that is best on average, the one that is worth most in all but a share `quantile` of the scenarios (0.1: nine times out
/// of ten), and the one whose greatest regret is least (Savage 1951, J. Am. Stat. Assoc. 46:55), each with its price against the first.
/// The regret of a scenario is what the best possible candidate is worth in it, less what this one is. Of equals the first candidate.
/// Candidates that are impossible in some scenario are summed up and not chosen. Empty where all are. Throws `invalid_input` for no
/// candidates or scenarios, rows of other lengths, a worth that is not finite (named), and a quantile or confidence that is none.
/// O(candidates × scenarios).
template <class = detail::when_called>
[[nodiscard]] std::optional<robust_choices> choose_robustly(const scenario_table& table, fraction quantile = 0.1,
                                                            fraction confidence = 0.95) {
    detail::require_table(table);
    if (!(quantile >= 0.0 && quantile < 1.0))
        throw invalid_input("quantile", detail::shown(quantile), "0 or more and less than 1");
    detail::require_confidence(confidence);
    const std::size_t scenarios = table.worth[0].size();
    std::vector<std::optional<double>> best(scenarios);
    for (const auto& row : table.worth)
        for (std::size_t s = 0; s < scenarios; ++s)
            if (row[s] && (!best[s] || *row[s] > *best[s])) best[s] = row[s];
    robust_choices choices;
    std::vector<std::size_t> possible;
    for (std::size_t c = 0; c < table.candidates.size(); ++c) {
        candidate_summary summary{.name = table.candidates[c]};
        std::vector<double> values;
        for (std::size_t s = 0; s < scenarios; ++s) {
            if (!table.worth[c][s]) {
                ++summary.impossible;
                continue;
            }
            values.push_back(*table.worth[c][s]);
            const double regret = *best[s] - values.back();
            summary.greatest_regret = std::max(summary.greatest_regret, regret);
            summary.mean_regret += regret;
        }
        if (!values.empty()) {
            const sample_summary m = summarise(values, confidence);
            summary.mean = m.mean;
            summary.interval = m.interval;
            summary.mean_regret /= static_cast<double>(values.size());
            summary.at_quantile = detail::low_quantile(values, quantile);
        }
        if (summary.impossible == 0) possible.push_back(c);
        choices.candidates.push_back(std::move(summary));
    }
    if (possible.empty()) return std::nullopt;
    const auto first_best = [&](auto score) {
        return *std::max_element(possible.begin(), possible.end(), [&](std::size_t a, std::size_t b) {
            return score(choices.candidates[a]) < score(choices.candidates[b]);
        });
    };
    const std::size_t plain = first_best([](const candidate_summary& c) { return c.mean; });
    const auto priced = [&](std::size_t c) {
        chosen_candidate chosen{.candidate = c};
        std::vector<double> differences(scenarios);
        for (std::size_t s = 0; s < scenarios; ++s) differences[s] = *table.worth[plain][s] - *table.worth[c][s];
        const sample_summary m = summarise(differences, confidence);
        chosen.price = std::max(0.0, m.mean);
        chosen.price_interval = m.interval;
        return chosen;
    };
    choices.on_average = priced(plain);
    choices.at_quantile = priced(first_best([](const candidate_summary& c) { return c.at_quantile; }));
    choices.least_regret = priced(first_best([](const candidate_summary& c) { return -c.greatest_regret; }));
    return choices;
}

} // namespace tranche
