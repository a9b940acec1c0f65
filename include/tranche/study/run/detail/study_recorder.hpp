// Runs replicates and records what they come to in a result.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <exception>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <tranche/study/run/detail/batch_stretches.hpp>
#include <tranche/study/run/study_model.hpp>
#include <tranche/study/run/study_result.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche::detail {

class study_recorder {
public:
    explicit study_recorder(study_result& into)
        : into_(into), outputs_(into.summaries_.size()),
          block_(outputs_.size() * batches_in_a_block * replicates_in_a_batch) {}

    /// Several replicates at once, no more than `batches_in_a_block` have. False where that came to nothing and nothing was counted, so that
    /// they are to be run one by one.
    template <class Model, class Workspace>
    [[nodiscard]] bool run_block(const Model& model, const replicate_range& range, Workspace& workspace) {
        const auto count = static_cast<std::size_t>(range.last - range.first);
        const std::span<std::int64_t> all = std::span(block_).first(outputs_.size() * count);
        std::fill(all.begin(), all.end(), no_output);
        try {
            model(study_block(into_.seed_, range.first, count), all, workspace);
        } catch (...) { // NOLINT: one by one, it is seen where
            return false;
        }
        if (!all_fit(all)) return false;
        for (std::size_t i = 0; i < outputs_.size(); ++i) into_.summaries_[i].add(all.subspan(i * count, count));
        return true;
    }

    template <class Model, class Workspace>
    void run(const Model& model, std::uint64_t replicate, Workspace& workspace) {
        for (std::int64_t& output : outputs_) output = no_output;
        try {
            record(call_model(model, study_replicate(into_.seed_, replicate), outputs_, workspace));
        } catch (const std::exception& error) {
            fail(replicate, error.what());
        } catch (...) {
            fail(replicate, "something that is no std::exception");
        }
    }

    /// Says that these were run.
    void cover(const replicate_range& range) {
        if (range.first == range.last) return;
        auto& covered = into_.covered_;
        if (covered.empty() || range.first > covered.back().last) return covered.push_back(range);
        if (range.first == covered.back().last) {
            covered.back().last = range.last;
            return;
        }
        // No executor of ours hands out a batch behind a later one.
        const auto place =
            std::lower_bound(covered.begin(), covered.end(), range,
                             [](const replicate_range& a, const replicate_range& b) { return a.first < b.first; });
        covered.insert(place, range);
        covered = study_result::closed_up(std::move(covered));
    }

    void finish() { into_.keep_first_failures(); }

private:
    [[nodiscard]] static bool all_fit(std::span<const std::int64_t> outputs) {
        std::uint64_t beyond = 0; // what -2^47 to 2^47 - 1 leave of 48 bits
        for (const std::int64_t output : outputs)
            beyond |= (static_cast<std::uint64_t>(output) + static_cast<std::uint64_t>(most_of_output)) >> 48U;
        return beyond == 0 || std::all_of(outputs.begin(), outputs.end(), [](std::int64_t output) {
                   return output == no_output || (output >= -most_of_output && output <= most_of_output);
               });
    }
    void record(const std::optional<impossible_draw>& verdict) {
        if (!verdict) {
            require_outputs();
            return count_outputs();
        }
        require_reason(*verdict);
        ++into_.impossible_[verdict->reason];
    }
    void record(const std::vector<impossible_draw>& parts) {
        // All is looked at before anything counts.
        for (const impossible_draw& part : parts) require_reason(part);
        require_outputs();
        count_outputs();
        for (const impossible_draw& part : parts) ++into_.impossible_[part.reason];
    }
    void require_outputs() const {
        for (std::size_t i = 0; i < outputs_.size(); ++i)
            if (outputs_[i] != no_output) exact_summary::require_output(into_.outline_.outputs[i], outputs_[i]);
    }
    void count_outputs() {
        for (std::size_t i = 0; i < outputs_.size(); ++i) into_.summaries_[i].add(outputs_[i]);
    }
    void require_reason(const impossible_draw& draw) const {
        if (draw.reason >= into_.impossible_.size()) refuse_reason(draw.reason);
    }
    [[noreturn]] TRANCHE_COLD void refuse_reason(std::size_t reason) const {
        throw invalid_input("reason", std::to_string(reason),
                            "a place among " + std::to_string(into_.impossible_.size()) + " reasons");
    }
    void fail(std::uint64_t replicate, std::string_view message) {
        ++into_.failed_;
        into_.failures_.push_back({replicate, std::string(message.substr(0, study_result::most_message))});
        if (into_.failures_.size() > 4 * study_result::most_failures) into_.keep_first_failures();
    }

    study_result& into_;
    std::vector<std::int64_t> outputs_, block_; // of one replicate, and of several
};

/// What of `range` is not in `covered`, which rises, into `open`, whose room is used again.
inline void find_not_covered(replicate_range range, const std::vector<replicate_range>& covered,
                             std::vector<replicate_range>& open) {
    open.clear();
    for (auto next = std::upper_bound(covered.begin(), covered.end(), range.first,
                                      [](std::uint64_t first, const replicate_range&r) { return first < r.last; });
         next != covered.end() && next->first < range.last; ++next) {
        if (range.first < next->first) open.push_back({range.first, next->first});
        range.first = std::min(next->last, range.last);
    }
    if (range.first < range.last) open.push_back(range);
}
/// The same as a list of its own.
[[nodiscard]] inline std::vector<replicate_range> not_covered(replicate_range range,
                                                              const std::vector<replicate_range>& covered) {
    std::vector<replicate_range> open;
    find_not_covered(range, covered, open);
    return open;
}

} // namespace tranche::detail
