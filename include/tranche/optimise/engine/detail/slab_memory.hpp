// What a plan remembers of the slabs in front: finite automata along the loin, which multiply the states of a search.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <concepts>
#include <cstddef>
#include <limits>
#include <utility>
#include <vector>

#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

struct any_state_seen {
    void operator()(std::size_t /*state*/) const {}
};

/// States 0 to size() - 1, of which 0 is where the knife starts. A slab leads to the same state or to one of a larger number:
/// each_before(state, option, f) calls f(before) for each state from which a slab of the option leads to this one.
template <class M>
concept slab_memory = requires(const M& memory, std::size_t number, any_state_seen f) {
    { memory.size() } -> std::convertible_to<std::size_t>;
    memory.each_before(number, number, f);
};

/// Counts something about a plan from 0 to `top`: each slab of option o adds steps[o]. What would go beyond the top is not
/// allowed, unless the counter saturates: then the top stands for that many or more. One that saturates steps by 0 or 1.
struct slab_counter {
    std::size_t top = 0;
    bool saturates = false;
    std::vector<std::size_t> steps; ///< by option; zero for loose meat
};

/// Counts portions of all specs up to `most`.
template <class = when_called>
[[nodiscard]] slab_counter all_portions(const cutting_problem& problem, std::size_t most) {
    slab_counter all{.top = most, .saturates = false, .steps = {}};
    for (std::size_t o = 0; o < problem.option_count(); ++o)
        all.steps.push_back(static_cast<std::size_t>(problem.pieces(o)));
    return all;
}

/// The number of states of these counters, or the largest number there is.
template <class = when_called>
[[nodiscard]] std::size_t states_of(const std::vector<slab_counter>& counters) {
    std::size_t product = 1;
    for (const slab_counter& c : counters) {
        if (product > std::numeric_limits<std::size_t>::max() / (c.top + 1))
            return std::numeric_limits<std::size_t>::max();
        product *= c.top + 1;
    }
    return product;
}

/// The states of some counters, the first one's digit first.
class slab_counts {
public:
    static constexpr std::size_t none = std::numeric_limits<std::size_t>::max();

    explicit slab_counts(std::vector<slab_counter> counters) : counters_(std::move(counters)) {}

    [[nodiscard]] std::size_t size() const { return states_of(counters_); }
    /// What a counter says in a state.
    [[nodiscard]] std::size_t digit(std::size_t state, std::size_t counter) const {
        for (std::size_t c = 0; c < counter; ++c) state /= counters_[c].top + 1;
        return state % (counters_[counter].top + 1);
    }
    template <class F>
    void each_before(std::size_t state, std::size_t option, const F& f) const {
        step_back(state, option, 0, 1, 0, f);
    }
    /// The state behind a slab of an option, or `none` where that may not come.
    [[nodiscard]] std::size_t behind(std::size_t state, std::size_t option) const {
        std::size_t next = 0, unit = 1;
        for (const slab_counter& c : counters_) {
            const std::size_t digit = state % (c.top + 1) + c.steps[option];
            if (digit > c.top && !c.saturates) return none;
            next += std::min(digit, c.top) * unit;
            state /= c.top + 1;
            unit *= c.top + 1;
        }
        return next;
    }

private:
    /// Where a counter saturates there are two: one slab fewer, and as many or more.
    template <class F>
    void step_back(std::size_t rest, std::size_t option, std::size_t c, std::size_t unit, std::size_t before,
                   const F& f) const {
        if (c == counters_.size()) return f(before);
        const slab_counter& counter = counters_[c];
        const std::size_t base = counter.top + 1, digit = rest % base, step = counter.steps[option];
        if (digit >= step) step_back(rest / base, option, c + 1, unit * base, before + (digit - step) * unit, f);
        if (counter.saturates && step > 0 && digit == counter.top)
            step_back(rest / base, option, c + 1, unit * base, before + digit * unit, f);
    }

    std::vector<slab_counter> counters_;
};

/// Two memories at once: `major` counts before `minor`.
template <slab_memory Major, slab_memory Minor>
struct memory_product {
    Major major;
    Minor minor;

    [[nodiscard]] std::size_t size() const { return major.size() * minor.size(); }
    template <class F>
    void each_before(std::size_t state, std::size_t option, const F& f) const {
        major.each_before(state / minor.size(), option, [&](std::size_t a) {
            minor.each_before(state % minor.size(), option, [&](std::size_t b) { f(a * minor.size() + b); });
        });
    }
    [[nodiscard]] std::size_t behind(std::size_t state, std::size_t option) const {
        const std::size_t a = major.behind(state / minor.size(), option),
                          b = minor.behind(state % minor.size(), option);
        return a == major.none || b == minor.none ? slab_counts::none : a * minor.size() + b;
    }
};

} // namespace tranche::detail
