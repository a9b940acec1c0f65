// What many whole numbers come to, exactly: sums, extremes and a histogram that merge to the same bits in any order.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include <tranche/study/summary/detail/bin_table.hpp>
#include <tranche/study/summary/study_output.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/wide_integer.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche {

namespace detail {
struct summary_parts;
}

/// A bin of a histogram: how many values lie from `low` to `high`, both included, in whole numbers.
struct histogram_bin {
    std::int64_t low = 0, high = 0;
    std::uint64_t count = 0;

    friend bool operator==(const histogram_bin&, const histogram_bin&) = default;
};

/// The values of one output over many replicates. Sums and sums of squares are whole numbers of 128 bits, and the histogram counts in
/// stated bins, so summaries of parts merge to the summary of the whole, to the last bit, in whatever order (`merge` is associative
/// and commutative, and a summary of nothing changes nothing).
///
/// Memory has a bound, 2 MB, however many values: where more than 65,536 bins hold something all bins become twice as
/// wide, as often as it takes; `bin_width` says how wide. Up to 2^32 values. Members throw nothing but what they say.
class exact_summary {
public:
    /// Of no values yet. Throws `invalid_input` as `validate(study_output)` does.
    explicit exact_summary(study_output about) : about_((validate(about), std::move(about))), bins_(about_.bin) {}

    /// Counts one value; `no_output` counts as missing. Throws `invalid_input`, and counts nothing, for a value beyond
    /// ± `most_of_output`. O(1), amortised.
    void add(std::int64_t value) {
        if (value == no_output) {
            ++missing_;
            return;
        }
        require_output(about_, value);
        least_ = count_ == 0 ? value : std::min(least_, value);
        most_ = count_ == 0 ? value : std::max(most_, value);
        ++count_;
        sum_ += value;
        squares_ += detail::wide_integer{value} * value;
        bins_.add(value);
    }

    /// Counts several, to the same bits as one after the other and in less time. Throws as that, and counts nothing then. O(n),
    /// amortised.
    void add(std::span<const std::int64_t> values) {
        constexpr std::size_t at_once = 1024; // whose sum fits 64 bits
        if (values.size() > at_once) {
            for (const std::int64_t value : values)
                if (value != no_output) require_output(about_, value);
            for (; !values.empty(); values = values.subspan(std::min(at_once, values.size())))
                add(values.first(std::min(at_once, values.size())));
            return;
        }
        if (values.empty()) return;
        std::int64_t least = values[0], most = values[0], sum = 0;
        for (const std::int64_t value : values) {
            least = value < least ? value : least;
            most = value > most ? value : most;
        }
        if (least < -most_of_output || most > most_of_output) return add_one_by_one(values);
        detail::wide_integer squares = 0;
        for (const std::int64_t value : values) {
            sum += value;
            squares += detail::wide_integer{value} * value;
        }
        bins_.add(values);
        least_ = count_ == 0 ? least : std::min(least_, least);
        most_ = count_ == 0 ? most : std::max(most_, most);
        count_ += values.size();
        sum_ += sum;
        squares_ += squares;
    }

    /// Adds the values of another summary of the same output. Throws `invalid_input` where names, units or bins differ, and beyond
    /// 2^32 values. O(bins of the other).
    void merge(const exact_summary& other) {
        if (!(about_ == other.about_))
            throw invalid_input("summary of " + about_.name, "another of " + other.about_.name,
                                "one with the same name, unit and bin");
        if (count_ + other.count_ > most_values || missing_ + other.missing_ > most_values)
            throw invalid_input("summary of " + about_.name, "more than 2^32 values", "fewer replicates");
        if (&other == this) return merge(exact_summary(other));
        missing_ += other.missing_;
        if (other.count_ == 0) return;
        if (count_ == 0) return take_values_of(other);
        least_ = std::min(least_, other.least_);
        most_ = std::max(most_, other.most_);
        count_ += other.count_;
        sum_ += other.sum_;
        squares_ += other.squares_;
        bins_.add(other.bins_);
    }

    /// The name, unit and bin of what is summed up.
    [[nodiscard]] const study_output& output() const { return about_; }
    [[nodiscard]] std::uint64_t count() const { return count_; }     ///< values that there are
    [[nodiscard]] std::uint64_t missing() const { return missing_; } ///< replicates that had none

    /// Exact extremes in the output's unit; none without values.
    [[nodiscard]] std::optional<double> least() const { return shown(least_); }
    /// The same at the other end.
    [[nodiscard]] std::optional<double> most() const { return shown(most_); }

    /// Σx / n in the output's unit; none without values. Any handbook.
    [[nodiscard]] std::optional<double> mean() const {
        if (count_ == 0) return std::nullopt;
        const split_mean m = split();
        return (static_cast<double>(m.whole) + static_cast<double>(m.rest) / static_cast<double>(count_)) * about_.unit;
    }

    /// s² = Σ(x - mean)² / (n - 1) in the square of the output's unit; none with fewer than two values. The sum of
    /// squares about the whole number next to the mean is exact, so nothing cancels. Zero or more. Any handbook.
    [[nodiscard]] std::optional<double> variance() const {
        if (count_ < 2) return std::nullopt;
        const split_mean m = split();
        const auto n = static_cast<double>(count_), rest = static_cast<double>(m.rest);
        // Σ(x - w)² = Σx² - w (2 Σx - n w) = Σx² - w (Σx + r) with r = Σx - n w
        const detail::wide_integer about_whole = squares_ - detail::wide_integer{m.whole} * (sum_ + m.rest);
        const double squares = static_cast<double>(about_whole) - detail::unfused(rest * (rest / n));
        return std::max(0.0, squares) / (n - 1.0) * about_.unit * about_.unit;
    }
    /// √ of `variance`, in the output's unit, zero or more; none with fewer than two values.
    [[nodiscard]] std::optional<double> standard_deviation() const {
        const auto v = variance();
        return v ? std::optional(std::sqrt(*v)) : std::nullopt;
    }

    /// How wide bins are, in whole numbers: as stated, or twice that as often as it took. 1 or more.
    [[nodiscard]] std::int64_t bin_width() const { return bins_.width(); }

    /// The bins that hold something, rising. O(b log b) for b of them.
    [[nodiscard]] std::vector<histogram_bin> histogram() const {
        std::vector<histogram_bin> all;
        for (const auto& [bin, count] : bins_.sorted())
            all.push_back({bin * bins_.width(), bin * bins_.width() + (bins_.width() - 1), count});
        return all;
    }

    /// The same values, whatever the order in which they came.
    friend bool operator==(const exact_summary& a, const exact_summary& b) {
        return a.about_ == b.about_ && a.count_ == b.count_ && a.missing_ == b.missing_ && a.sum_ == b.sum_ &&
               a.squares_ == b.squares_ && (a.count_ == 0 || (a.least_ == b.least_ && a.most_ == b.most_)) &&
               a.bins_.level() == b.bins_.level() && a.bins_.sorted() == b.bins_.sorted();
    }

    /// Throws `invalid_input`, naming the output, for a value beyond ± `most_of_output`.
    static void require_output(const study_output& output, std::int64_t value) {
        if (value < -most_of_output || value > most_of_output) refuse_output(output, value);
    }

    static constexpr std::uint64_t most_values = std::uint64_t{1} << 32U;

private:
    friend struct detail::summary_parts;

    [[noreturn]] TRANCHE_COLD static void refuse_output(const study_output& output, std::int64_t value) {
        throw invalid_input("output " + output.name, std::to_string(value), "-2^47 to 2^47 whole numbers");
    }

    /// Where some are missing, or are none.
    void add_one_by_one(std::span<const std::int64_t> values) {
        for (const std::int64_t value : values)
            if (value != no_output) require_output(about_, value);
        for (const std::int64_t value : values) add(value);
    }

    /// Instead of none; those that are missing stay.
    void take_values_of(const exact_summary& other) {
        const std::uint64_t missing = missing_;
        *this = other;
        missing_ = missing;
    }

    struct split_mean {
        std::int64_t whole = 0, rest = 0; // Σx = n whole + rest, with 0 <= rest < n
    };
    [[nodiscard]] split_mean split() const {
        const detail::wide_integer n = static_cast<std::int64_t>(count_);
        detail::wide_integer whole = sum_ / n, rest = sum_ - whole * n;
        if (rest < 0) {
            whole -= 1;
            rest += n;
        }
        return {static_cast<std::int64_t>(whole), static_cast<std::int64_t>(rest)};
    }
    [[nodiscard]] std::optional<double> shown(std::int64_t value) const {
        return count_ == 0 ? std::nullopt : std::optional(static_cast<double>(value) * about_.unit);
    }

    study_output about_;
    std::uint64_t count_ = 0, missing_ = 0;
    std::int64_t least_ = 0, most_ = 0;
    detail::wide_integer sum_ = 0, squares_ = 0;
    detail::bin_table bins_;
};

} // namespace tranche
