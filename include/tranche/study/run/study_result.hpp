// What came of a study, or of a part of one: exact, and merged with other parts to the same bits.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <compare>
#include <cstddef>
#include <cstdint>
#include <iterator>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <tranche/study/run/study_model.hpp>
#include <tranche/study/summary/exact_summary.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche {

namespace detail {
class study_recorder;
struct study_parts;
} // namespace detail

/// Replicates from `first` up to, but without, `last`.
struct replicate_range {
    std::uint64_t first = 0, last = 0;

    friend bool operator==(const replicate_range&, const replicate_range&) = default;
};

/// A replicate in which the model threw, and what it said: at most 200 bytes of it.
struct study_failure {
    std::uint64_t replicate = 0;
    std::string message{};

    friend auto operator<=>(const study_failure&, const study_failure&) = default;
};

/// How the call ended that made a result.
enum class study_end {
    finished,    ///< all replicates that were asked for
    precise,     ///< the stated precision is reached
    out_of_time, ///< `study_options::most_time` is over
    stopped      ///< `study_options::stop` said so
};

/// What the replicates of a study came to. Results of parts (shards, ranks, what was done before and after a break) merge to that of
/// the whole: associative, commutative, and the same to the last bit as if one thread had run everything. Which replicates are in a
/// result it knows, so none counts twice.
///
/// Memory does not grow with replicates: 2 MB an output at most, the first 64 failures, and the ranges of replicates,
/// which close up. Members throw nothing but what they say.
class study_result {
public:
    /// Of no replicates yet. Throws `invalid_input` for an outline without outputs, outputs that are none (`validate(study_output)`), and
    /// names and reasons that are empty or there twice.
    study_result(std::string title, std::uint64_t seed, study_outline outline)
        : title_(std::move(title)), seed_(seed), outline_(std::move(outline)), impossible_(outline_.reasons.size()) {
        if (outline_.outputs.empty()) throw invalid_input("outputs", "none", "at least one");
        for (std::size_t i = 0; i < outline_.outputs.size(); ++i) {
            const std::string field = "outputs[" + std::to_string(i) + ']';
            validate(outline_.outputs[i], field);
            for (std::size_t j = 0; j < i; ++j)
                if (outline_.outputs[i].name == outline_.outputs[j].name)
                    throw invalid_input(field + ".name", outline_.outputs[i].name, "a name that no other output has");
            summaries_.emplace_back(outline_.outputs[i]);
        }
        for (std::size_t i = 0; i < outline_.reasons.size(); ++i)
            if (outline_.reasons[i].empty() ||
                std::count(outline_.reasons.begin(), outline_.reasons.end(), outline_.reasons[i]) > 1)
                throw invalid_input("reasons[" + std::to_string(i) + ']',
                                    outline_.reasons[i].empty() ? "nothing" : outline_.reasons[i],
                                    "words that no other reason has");
    }

    /// As it was given.
    [[nodiscard]] const std::string& title() const { return title_; }
    /// As it was given, any number.
    [[nodiscard]] std::uint64_t seed() const { return seed_; }
    /// What outputs and reasons there are.
    [[nodiscard]] const study_outline& outline() const { return outline_; }

    /// How many replicates were run: those that count, impossible ones and failed ones.
    [[nodiscard]] std::uint64_t replicates() const {
        std::uint64_t count = 0;
        for (const replicate_range& range : covered_) count += range.last - range.first;
        return count;
    }
    /// Which: rising, neither touching nor overlapping.
    [[nodiscard]] const std::vector<replicate_range>& covered() const { return covered_; }

    /// The outputs, in the order of the outline.
    [[nodiscard]] const std::vector<exact_summary>& summaries() const { return summaries_; }
    /// The output called `name`. Throws `invalid_input`, with the names that there are, where there is none.
    [[nodiscard]] const exact_summary& operator[](std::string_view name) const {
        std::string known;
        for (const exact_summary& summary : summaries_) {
            if (summary.output().name == name) return summary;
            known += (known.empty() ? "" : ", ") + summary.output().name;
        }
        throw invalid_input("output", std::string(name), "one of " + known);
    }

    /// Impossible draws by reason, in the order of the outline.
    [[nodiscard]] const std::vector<std::uint64_t>& impossible() const { return impossible_; }
    /// Replicates in which the model threw; the first 64 of them by number, with what was said.
    [[nodiscard]] std::uint64_t failed() const { return failed_; }
    /// The first 64 of them by number.
    [[nodiscard]] const std::vector<study_failure>& failures() const { return failures_; }

    /// Adds another part of the same study. Throws `invalid_input`, and changes nothing, where title, seed or outline differ, and where
    /// a replicate is in both. O(bins).
    void merge(const study_result& other) {
        if (title_ != other.title_) {
            const auto named = [](const std::string& title) { return title.empty() ? "one without a title" : title; };
            throw invalid_input("title", named(other.title_), "a part of the same study, " + named(title_));
        }
        if (seed_ != other.seed_)
            throw invalid_input("seed", std::to_string(other.seed_),
                                "that of the other parts, " + std::to_string(seed_));
        if (!(outline_ == other.outline_))
            throw invalid_input("outline", "other outputs or reasons", "those of the other parts");
        std::vector<replicate_range> both;
        std::merge(covered_.begin(), covered_.end(), other.covered_.begin(), other.covered_.end(),
                   std::back_inserter(both),
                   [](const replicate_range& a, const replicate_range& b) { return a.first < b.first; });
        covered_ = closed_up(std::move(both));
        for (std::size_t i = 0; i < summaries_.size(); ++i) summaries_[i].merge(other.summaries_[i]);
        for (std::size_t i = 0; i < impossible_.size(); ++i) impossible_[i] += other.impossible_[i];
        failed_ += other.failed_;
        failures_.insert(failures_.end(), other.failures_.begin(), other.failures_.end());
        keep_first_failures();
    }

    /// How the call that made this ended. No part of what is compared, merged or written.
    study_end ended = study_end::finished;

    friend bool operator==(const study_result& a, const study_result& b) {
        return a.title_ == b.title_ && a.seed_ == b.seed_ && a.outline_ == b.outline_ && a.covered_ == b.covered_ &&
               a.summaries_ == b.summaries_ && a.impossible_ == b.impossible_ && a.failed_ == b.failed_ &&
               a.failures_ == b.failures_;
    }

    static constexpr std::size_t most_failures = 64, most_message = 200;

private:
    friend class detail::study_recorder;
    friend struct detail::study_parts;

    /// Touching ranges become one. Throws for a replicate that is in two.
    [[nodiscard]] static std::vector<replicate_range> closed_up(std::vector<replicate_range> ranges) {
        std::vector<replicate_range> closed;
        for (const replicate_range& range : ranges) {
            if (!closed.empty() && range.first < closed.back().last)
                throw invalid_input("replicates",
                                    std::to_string(range.first) + " to " +
                                        std::to_string(std::min(range.last, closed.back().last) - 1) + " in two parts",
                                    "each in one part");
            if (!closed.empty() && range.first == closed.back().last)
                closed.back().last = range.last;
            else
                closed.push_back(range);
        }
        return closed;
    }

    void keep_first_failures() {
        std::sort(failures_.begin(), failures_.end());
        if (failures_.size() > most_failures) failures_.resize(most_failures);
    }

    std::string title_;
    std::uint64_t seed_;
    study_outline outline_;
    std::vector<replicate_range> covered_{};
    std::vector<exact_summary> summaries_{};
    std::vector<std::uint64_t> impossible_;
    std::uint64_t failed_ = 0;
    std::vector<study_failure> failures_{};
};

} // namespace tranche
