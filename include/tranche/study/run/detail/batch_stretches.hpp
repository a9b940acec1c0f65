// Batches of replicates, joined where they follow each other and take little time.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <chrono>
#include <cstdint>
#include <limits>
#include <optional>
#include <utility>

#include <tranche/study/run/study_result.hpp>

namespace tranche::detail {

/// Replicates whose place in a study is fixed: stops are decided at their boundaries, so that they are the same for all executors.
inline constexpr std::uint64_t replicates_in_a_batch = 16;

/// Batches that a model which runs blocks is given at once, at most.
inline constexpr std::uint64_t batches_in_a_block = 4;

/// Takes batches from a function that hands out one after the other. Stretches are of one batch at first and of more once that has
/// turned out to be quick, so that no thread keeps much that another could do.
template <class Next>
class batch_stretches {
public:
    batch_stretches(Next& next, std::uint64_t replicates) : next_(next), replicates_(replicates) {}

    /// The replicates of one, none where there are no more; of one batch if `alone`.
    [[nodiscard]] std::optional<replicate_range> take(bool alone) {
        const std::uint64_t first = held_ == none ? take_one() : std::exchange(held_, none);
        if (first == none) return std::nullopt;
        std::uint64_t last = first + 1;
        while (!alone && last < first + most_) {
            held_ = take_one();
            if (held_ != last) break;
            held_ = none;
            ++last;
        }
        return replicate_range{first * replicates_in_a_batch, std::min(last * replicates_in_a_batch, replicates_)};
    }
    /// Does what there is to do with a stretch, and sees how long that takes.
    template <class Work>
    void time(Work&& work) {
        if (most_ >= batches_in_a_block) return work();
        const auto before = std::chrono::steady_clock::now();
        work();
        if (std::chrono::steady_clock::now() - before < std::chrono::microseconds(50)) most_ *= 2;
    }

private:
    static constexpr std::uint64_t none = std::numeric_limits<std::uint64_t>::max();

    [[nodiscard]] std::uint64_t take_one() { return next_().value_or(none); }

    Next& next_;
    std::uint64_t replicates_, most_ = 1;
    std::uint64_t held_ = none; // taken, and no part of the stretch before it
};

} // namespace tranche::detail
