// A plan for every loin of an order, chosen among those that were seen: rounded from shares, and bettered by exchanges.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <vector>

#include <tranche/orders/detail/offer_pools.hpp>
#include <tranche/orders/detail/price_hunt.hpp>

namespace tranche::detail {

/// Loins of a kind that are cut alike in a choice: one, or a block of many.
struct chosen_unit {
    std::uint32_t kind = 0;
    std::int64_t count = 1;
};

/// The units that an order is chosen in: single loins, and of kinds with very many blocks beside two thousand single ones, so that
/// equal loins need not all be cut alike.
template <class = when_called>
[[nodiscard]] std::vector<chosen_unit> units_of(const order_facts& facts) {
    constexpr std::int64_t single = 2048, blocks = 512;
    std::vector<chosen_unit> units;
    for (std::size_t k = 0; k < facts.kinds.size(); ++k) {
        std::int64_t left = facts.kinds[k].count;
        const auto kind = static_cast<std::uint32_t>(k);
        if (left > 2 * single) {
            const std::int64_t each = (left - single) / blocks + 1;
            for (; left - single >= each; left -= each) units.push_back({kind, each});
        }
        for (; left > 0; --left) units.push_back({kind, 1});
    }
    return units;
}

/// Which plan each unit has, and what that gives.
class order_choice {
public:
    order_choice(const offer_pools& pools, const std::vector<chosen_unit>& units)
        : pools_(&pools), units_(&units), plans_(units.size()), made_(pools.lines()) {
        recount();
    }

    [[nodiscard]] const std::vector<chosen_unit>& units() const { return *units_; }
    [[nodiscard]] std::uint32_t plan(std::size_t unit) const { return plans_[unit]; }
    [[nodiscard]] bool opens(std::size_t unit) const {
        return plans_[unit] != 0 || pools_->facts().kinds[(*units_)[unit].kind].always;
    }
    [[nodiscard]] const std::vector<std::int64_t>& made() const { return made_; }
    /// Of all of it, in billionths.
    [[nodiscard]] std::int64_t value() const {
        std::int64_t sum = worth_;
        for (std::size_t j = 0; j < made_.size(); ++j) sum += lines()[j](made_[j]) - lines()[j](0);
        return sum + at_zero();
    }
    void set(std::size_t unit, std::uint32_t plan) {
        add(unit, -1);
        plans_[unit] = plan;
        add(unit, 1);
    }
    /// What the value gains if a unit has another plan.
    [[nodiscard]] std::int64_t gain(std::size_t unit, std::uint32_t plan) const {
        const chosen_unit& of = (*units_)[unit];
        const offer_pool& pool = pools_->of(of.kind);
        std::int64_t sum = of.count * (pool.worth(plan) - pool.worth(plans_[unit]));
        const std::uint16_t *to = pool.portions(plan), *from = pool.portions(plans_[unit]);
        for (std::size_t j = 0; j < made_.size(); ++j)
            if (to[j] != from[j])
                sum += lines()[j](made_[j] + of.count * (std::int64_t{to[j]} - from[j])) - lines()[j](made_[j]);
        return sum;
    }
    [[nodiscard]] const offer_pool& pool(std::size_t unit) const { return pools_->of((*units_)[unit].kind); }
    [[nodiscard]] const offer_pools& pools() const { return *pools_; }
    [[nodiscard]] const std::vector<line_worth>& lines() const { return pools_->facts().lines; }

    /// In each group of the kinds that took part, as many of these units take an offer as its share says, one after the other in an
    /// order that mixes them.
    template <class = when_called>
    void round(const found_prices& found, const std::vector<std::uint32_t>& kinds,
               const std::vector<std::uint32_t>& units);
    /// Exchanges single plans while that gains anything and nobody says stop; returns how many.
    template <class = when_called>
    std::size_t exchange(order_clock& clock);

private:
    [[nodiscard]] std::int64_t at_zero() const {
        std::int64_t sum = 0;
        for (const line_worth& line : lines()) sum += line(0);
        return sum;
    }
    void add(std::size_t unit, std::int64_t sign) {
        const chosen_unit& of = (*units_)[unit];
        const offer_pool& pool = pools_->of(of.kind);
        worth_ += sign * of.count * pool.worth(plans_[unit]);
        const std::uint16_t* const portions = pool.portions(plans_[unit]);
        for (std::size_t j = 0; j < made_.size(); ++j) made_[j] += sign * of.count * portions[j];
    }
    void recount() {
        worth_ = 0;
        made_.assign(made_.size(), 0);
        for (std::size_t u = 0; u < plans_.size(); ++u)
            if (pool(u).size() > 0) add(u, 1);
    }

    const offer_pools* pools_;
    const std::vector<chosen_unit>* units_;
    std::vector<std::uint32_t> plans_;
    std::vector<std::int64_t> made_;
    std::int64_t worth_ = 0;
};

template <class>
void order_choice::round(const found_prices& found, const std::vector<std::uint32_t>& kinds,
                         const std::vector<std::uint32_t>& units) {
    std::vector<std::uint32_t> position(pools_->facts().kinds.size(),
                                        0xFFFF'FFFFU); // of a kind among those that took part
    for (std::size_t i = 0; i < kinds.size(); ++i) position[kinds[i]] = static_cast<std::uint32_t>(i);
    std::vector<std::vector<std::uint32_t>> members(found.groups);
    for (const std::uint32_t u : units) members[position[(*units_)[u].kind] % found.groups].push_back(u);
    std::uint64_t mixed = 0x9E37'79B9'7F4A'7C15U;
    const auto drawn = [&](std::size_t below) { // xorshift, the same everywhere
        mixed ^= mixed << 13U, mixed ^= mixed >> 7U, mixed ^= mixed << 17U;
        return static_cast<std::size_t>(mixed % below);
    };
    for (std::size_t g = 0; g < found.groups; ++g) {
        std::vector<std::uint32_t>& of = members[g];
        for (std::size_t k = of.size(); k > 1; --k) std::swap(of[k - 1], of[drawn(k)]);
        std::vector<shared_offer> mix = found.mix[g];
        double rest = 1.0;
        for (const shared_offer& offer : mix) rest -= offer.share;
        bool always = false;
        for (const std::uint32_t u : of) always = always || pools_->facts().kinds[(*units_)[u].kind].always;
        constexpr std::size_t nothing = static_cast<std::size_t>(-1);
        if (rest > 1e-9 && !always) mix.push_back({nothing, rest});
        if (mix.empty()) mix.push_back({found.picks.size() - 1, 1.0});
        std::vector<double> given(mix.size());
        double passed = 0.0;
        for (const std::uint32_t u : of) {
            const double count = static_cast<double>((*units_)[u].count);
            passed += count;
            std::size_t next = 0;
            for (std::size_t k = 1; k < mix.size(); ++k)
                if (mix[k].share * passed - given[k] > mix[next].share * passed - given[next]) next = k;
            given[next] += count;
            set(u, mix[next].pass == nothing ? 0 : found.picks[mix[next].pass][position[(*units_)[u].kind]]);
        }
    }
}

template <class>
std::size_t order_choice::exchange(order_clock& clock) {
    std::size_t exchanged = 0;
    for (bool any = true; any;) {
        any = false;
        for (std::size_t u = 0; u < units_->size(); ++u) {
            if (!clock.not_stopped_after(pool(u).size())) return exchanged;
            std::uint32_t to = plans_[u];
            std::int64_t most = 0;
            for (std::uint32_t p = 0; p < pool(u).size(); ++p) {
                if (p == plans_[u]) continue;
                if (const std::int64_t gained = gain(u, p); gained > most) most = gained, to = p;
            }
            if (to == plans_[u]) continue;
            set(u, to);
            ++exchanged;
            any = true;
        }
    }
    return exchanged;
}

} // namespace tranche::detail
