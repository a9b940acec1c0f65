// What a search has done so far, held against its limits.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <vector>

#include <tranche/cut/lay_out.hpp>
#include <tranche/optimise/engine/search_limits.hpp>
#include <tranche/optimise/want/score.hpp>

namespace tranche::detail {

/// Of a search that nothing ends.
struct always {
    [[nodiscard]] bool operator()() const { return true; }
};

/// Counts the passes of all searches for a plan together. A search asks it before each pass, ends when it says so, and answers
/// with what it has.
class search_clock {
public:
    explicit search_clock(const search_limits& limits) : limits_(limits) {}
    search_clock(const search_clock&) = delete;
    search_clock& operator=(const search_clock&) = delete;

    /// Whether there may be so many passes more. Once it says no it stays with that.
    [[nodiscard]] bool go_on(std::size_t passes = 1) {
        if (ended_ != search_end::by_itself) return false;
        if (passes > left())
            ended_ = search_end::out_of_work;
        else if (limits_.stop())
            ended_ = search_end::stopped;
        else
            passes_ += passes;
        return ended_ == search_end::by_itself;
    }
    [[nodiscard]] std::size_t left() const { return limits_.most_passes - std::min(limits_.most_passes, passes_); }
    [[nodiscard]] search_end ended() const { return ended_; }
    [[nodiscard]] bool stopped() const { return ended_ != search_end::by_itself; }
    [[nodiscard]] const search_limits& limits() const { return limits_; }

    /// Tells who wants to know; not inside of a search for something that is not a plan by itself (`inner_search`).
    template <additive_score Score>
    void found(const std::vector<grid_slab>& slabs, const Score& score, const Score* bound = nullptr) const {
        if (limits_.found && inner_ == 0)
            limits_.found({slabs, numbers_of(score), bound ? numbers_of(*bound) : std::vector<double>{}});
    }

    /// While it lives, what is found is a relaxation and nobody's business.
    class inner_search {
    public:
        explicit inner_search(search_clock& clock) : clock_(clock) { ++clock_.inner_; }
        ~inner_search() { --clock_.inner_; }
        inner_search(const inner_search&) = delete;
        inner_search& operator=(const inner_search&) = delete;

    private:
        search_clock& clock_;
    };

private:
    const search_limits& limits_;
    std::size_t passes_ = 0, inner_ = 0;
    search_end ended_ = search_end::by_itself;
};

} // namespace tranche::detail
