// How many portions a loin gives and how many are asked for, as distributions of whole numbers.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <span>
#include <string>
#include <vector>

#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/quantity.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// The distribution of a whole number, zero or more: `probability[n]` is that of n. Made by the functions below, it
/// adds up to one.
struct count_distribution {
    std::vector<double> probability{};

    /// Σ n × probability[n], in portions, zero or more. Throws nothing; O(counts). Any handbook.
    [[nodiscard]] double mean() const {
        double sum = 0.0;
        for (std::size_t n = 0; n < probability.size(); ++n) sum += static_cast<double>(n) * probability[n];
        return sum;
    }
    /// Standard deviation, √Σ (n - mean)² × probability[n], in portions, zero or more. Throws nothing; O(counts). Any
    /// handbook.
    [[nodiscard]] double sd() const {
        const double m = mean();
        double sum = 0.0;
        for (std::size_t n = 0; n < probability.size(); ++n)
            sum += probability[n] * (static_cast<double>(n) - m) * (static_cast<double>(n) - m);
        return std::sqrt(sum);
    }

    friend bool operator==(const count_distribution&, const count_distribution&) = default;
};

namespace detail {

/// Counts larger than this are refused: of portions, of guests, and of loins.
inline constexpr std::int64_t largest_count = 10'000;

} // namespace detail

/// Throws `invalid_input`, naming `field`, unless there is a probability, none is negative or not finite, they add up
/// to one within 1e-9, and no count is above `largest_count`. Probabilities are plain numbers.
inline void validate(const count_distribution& counts, const std::string& field) {
    double sum = 0.0;
    for (const double p : counts.probability) {
        detail::require_not_negative(p, field + ": probability");
        sum += p;
    }
    if (!(std::abs(sum - 1.0) <= 1e-9))
        throw invalid_input(field, detail::shown(sum) + " in all", "probabilities that add up to 1");
    if (counts.probability.size() > static_cast<std::size_t>(detail::largest_count) + 1)
        throw invalid_input(field, std::to_string(counts.probability.size() - 1), "counts of at most 10000");
}

namespace detail {
[[nodiscard]] inline std::size_t checked_count(std::int64_t count, std::int64_t least, const char* field) {
    if (count < least || count > largest_count)
        throw invalid_input(field, std::to_string(count), std::to_string(least) + " to 10000");
    return static_cast<std::size_t>(count);
}
} // namespace detail

/// Just this number. `count` is 0 to 10,000 (`largest_count`). Throws `invalid_input` for another one. O(count).
[[nodiscard]] inline count_distribution exactly_counted(std::int64_t count) {
    count_distribution result{std::vector<double>(detail::checked_count(count, 0, "count") + 1)};
    result.probability.back() = 1.0;
    return result;
}

/// As often as it was seen: the portions of each loin that was cut, one entry a loin. What was never seen has no
/// probability, so a short record promises too much. Throws `invalid_input` for none, and a count that is negative or
/// above `largest_count`. O(counts). Counts are 0 to 10,000, plain numbers of portions.
[[nodiscard]] inline count_distribution counted(std::span<const std::int64_t> seen) {
    if (seen.empty()) throw invalid_input("counts", "none", "at least one");
    count_distribution result;
    for (const std::int64_t count : seen) {
        const std::size_t n = detail::checked_count(count, 0, "counts");
        if (n >= result.probability.size()) result.probability.resize(n + 1);
        result.probability[n] += 1.0;
    }
    for (double& p : result.probability) p /= static_cast<double>(seen.size());
    return result;
}

/// Portions that `guests` will ask for, each of whom comes, or chooses the dish, with probability `turn_up` on their
/// own account and then takes `portions_each`: binomial, in steps of `portions_each`. Guests who come as a party vary
/// more: give a distribution of your own. From the most likely number outwards by the ratio of neighbours, so that
/// nothing overflows. Throws `invalid_input` for fewer than one guest or portion, more than `largest_count` portions,
/// and a share that is not above 0 and at most 1. O(guests × portions each). Counts are plain numbers. Source of the
/// distribution: any handbook.
template <class = detail::when_called>
[[nodiscard]] count_distribution counts_wanted_by(std::int64_t guests, fraction turn_up = 1.0,
                                                  std::int64_t portions_each = 1) {
    const std::size_t n = detail::checked_count(guests, 1, "guests");
    const std::size_t each = detail::checked_count(portions_each, 1, "portions_each");
    static_cast<void>(detail::checked_count(guests * portions_each, 1, "guests × portions_each"));
    if (!(turn_up > 0.0 && turn_up <= 1.0))
        throw invalid_input("turn_up", detail::shown(turn_up), "a share above 0, at most 1");
    std::vector<double> guest(n + 1);
    const auto mode = std::min(n, static_cast<std::size_t>(static_cast<double>(n + 1) * turn_up));
    guest[mode] = 1.0;
    double sum = 1.0;
    // Where all turn up the mode is n and what is below has no probability.
    const double odds = turn_up < 1.0 ? turn_up / (1.0 - turn_up) : std::numeric_limits<double>::infinity();
    for (std::size_t k = mode; k > 0; --k)
        sum += guest[k - 1] = guest[k] * static_cast<double>(k) / static_cast<double>(n - k + 1) / odds;
    for (std::size_t k = mode; k < n; ++k)
        sum += guest[k + 1] = guest[k] * static_cast<double>(n - k) / static_cast<double>(k + 1) * odds;
    count_distribution result{std::vector<double>(n * each + 1)};
    for (std::size_t k = 0; k <= n; ++k) result.probability[k * each] = guest[k] / sum;
    return result;
}

} // namespace tranche
