// Exchanges of the plans of two loins at once, found by what they lose at the prices.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <utility>
#include <vector>

#include <tranche/orders/detail/order_choice.hpp>

namespace tranche::detail {

/// What a choice misses the bound of some prices by is the sum of two losses, none below zero: of each loin, whose plan may not be the
/// best at the prices, and of each line, whose portions may be more or fewer than is best at its price. Two exchanges that
/// together lose less on loins than all lines do now may gain; others cannot, and are not looked at.
class pair_exchange {
public:
    pair_exchange(order_choice& choice, const std::vector<std::int64_t>& prices, order_clock& clock)
        : choice_(choice), prices_(prices), clock_(clock) {
        const std::size_t m = prices.size();
        padded_ = (m + 3) / 4 * 4;
        slopes_.assign(4 * padded_, 0.0F);
        starts_.assign(4 * padded_, 0.0F);
    }

    /// Tries up to so many pairs as long as the clock lets it, and returns how many it tried.
    template <class = when_called>
    std::size_t run(std::size_t most_tried);

private:
    struct move {
        float loss = 0.0F; ///< more than the plan that the unit has, in units of the currency
        std::uint32_t unit = 0, plan = 0;
    };

    template <class = when_called>
    void find_moves(std::size_t most);
    /// Straight stretches of what each line loses, by portions made beyond what is made now.
    template <class = when_called>
    void read_lines();
    /// What lines lose if so many portions more are made.
    [[nodiscard]] float lost(const float* more) const {
        float sums[4] = {};
        for (std::size_t j = 0; j < padded_; j += 4)
            for (std::size_t i = j; i < j + 4; ++i) {
                float most = starts_[i] + slopes_[i] * more[i];
                for (std::size_t k = 1; k < stretches_; ++k)
                    most = std::max(most, starts_[k * padded_ + i] + slopes_[k * padded_ + i] * more[i]);
                sums[i - j] += most;
            }
        return (sums[0] + sums[1]) + (sums[2] + sums[3]);
    }

    order_choice& choice_;
    const std::vector<std::int64_t>& prices_;
    order_clock& clock_;
    std::size_t padded_ = 0, stretches_ = 4;
    std::vector<float> slopes_, starts_; ///< by stretch, then line
    std::vector<move> moves_;
    std::vector<float> changes_; ///< of portions, by move and line
};

template <class>
void pair_exchange::read_lines() {
    const std::size_t m = prices_.size();
    stretches_ = 2;
    for (std::size_t j = 0; j < m; ++j) {
        const line_worth& line = choice_.lines()[j];
        const auto beyond = static_cast<std::int64_t>(line.beyond(prices_[j]));
        const std::int64_t made = choice_.made()[j];
        std::int64_t from = 0, worth = line.at_zero();
        std::size_t k = 0;
        for (std::size_t s = 0; s < line.slopes().size(); ++s) {
            const std::int64_t past = s < line.corners().size() ? line.corners()[s] : line_worth::endless;
            if (past > from || s == 0) {
                // lost(T) = beyond − worth(T) + price × T along this stretch
                const double slope = static_cast<double>(prices_[j] - line.slopes()[s]);
                const double at_made = static_cast<double>(beyond - worth) +
                                       static_cast<double>(prices_[j]) * static_cast<double>(from) +
                                       slope * static_cast<double>(made - from);
                slopes_[k * padded_ + j] = static_cast<float>(1e-9 * slope);
                starts_[k * padded_ + j] = static_cast<float>(1e-9 * at_made);
                ++k;
            }
            if (past == line_worth::endless) break;
            worth += line.slopes()[s] * (past - from);
            from = past;
        }
        for (std::size_t rest = k; rest < 4; ++rest) {
            slopes_[rest * padded_ + j] = slopes_[(k - 1) * padded_ + j];
            starts_[rest * padded_ + j] = starts_[(k - 1) * padded_ + j];
        }
        stretches_ = std::max(stretches_, k);
    }
}

template <class>
void pair_exchange::find_moves(std::size_t most) {
    const std::size_t m = prices_.size();
    moves_.clear();
    const std::vector<float> still(padded_, 0.0F);
    const float lines_lose = lost(still.data());
    float least = 0.0F;
    std::uint32_t last_kind = 0xFFFF'FFFFU, last_plan = 0;
    for (std::uint32_t u = 0; u < choice_.units().size(); ++u) {
        const chosen_unit& unit = choice_.units()[u];
        if (unit.kind == last_kind && choice_.plan(u) == last_plan && unit.count == 1 && u > 1 &&
            choice_.units()[u - 1].count == 1 && choice_.plan(u - 1) == last_plan &&
            choice_.units()[u - 2].kind == unit.kind && choice_.plan(u - 2) == last_plan)
            continue; // two of a kind that are cut alike are enough
        last_kind = unit.kind;
        last_plan = choice_.plan(u);
        const offer_pool& pool = choice_.pool(u);
        const auto worth = [&](std::uint32_t p) {
            std::int64_t sum = pool.worth(p);
            for (std::size_t j = 0; j < m; ++j) sum += prices_[j] * pool.portions(p)[j];
            return sum;
        };
        const std::int64_t now = worth(last_plan);
        for (std::uint32_t p = 0; p < pool.size(); ++p) {
            if (p == last_plan) continue;
            const auto loss =
                static_cast<float>(1e-9 * static_cast<double>(unit.count) * static_cast<double>(now - worth(p)));
            if (loss < lines_lose) moves_.push_back({loss, u, p}), least = std::min(least, loss);
        }
    }
    const auto unlikely =
        std::remove_if(moves_.begin(), moves_.end(), [&](const move& a) { return a.loss + least >= lines_lose; });
    moves_.erase(unlikely, moves_.end());
    const auto before = [](const move& a, const move& b) {
        return std::pair{a.loss, std::pair{a.unit, a.plan}} < std::pair{b.loss, std::pair{b.unit, b.plan}};
    };
    std::sort(moves_.begin(), moves_.end(), before);
    if (moves_.size() > most) moves_.resize(most);
    changes_.assign(moves_.size() * padded_, 0.0F);
    for (std::size_t a = 0; a < moves_.size(); ++a) {
        const offer_pool& pool = choice_.pool(moves_[a].unit);
        const std::int64_t count = choice_.units()[moves_[a].unit].count;
        const std::uint16_t *to = pool.portions(moves_[a].plan), *from = pool.portions(choice_.plan(moves_[a].unit));
        for (std::size_t j = 0; j < m; ++j)
            changes_[a * padded_ + j] = static_cast<float>(count * (std::int64_t{to[j]} - from[j]));
    }
}

template <class>
std::size_t pair_exchange::run(std::size_t most_tried) {
    std::size_t tried = 0;
    std::vector<float> first(padded_), both(padded_);
    for (bool any = true; any && tried < most_tried && clock_.go_on(0);) {
        any = false;
        read_lines();
        find_moves(20'000);
        std::vector<bool> moved(choice_.units().size());
        std::fill(first.begin(), first.end(), 0.0F);
        float lines_lose = lost(first.data());
        for (std::size_t a = 0; a < moves_.size() && tried < most_tried; ++a) {
            if (moved[moves_[a].unit]) continue;
            const std::size_t tried_before = tried;
            std::size_t best = moves_.size();
            float most = 1e-4F; // a hundredth of a cent, more than what floats lose
            for (std::size_t b = a + 1; b < moves_.size(); ++b) {
                const float loins_lose = moves_[a].loss + moves_[b].loss;
                if (loins_lose >= lines_lose) break;
                ++tried;
                if (moves_[b].unit == moves_[a].unit || moved[moves_[b].unit]) continue;
                for (std::size_t j = 0; j < padded_; ++j)
                    both[j] = changes_[a * padded_ + j] + changes_[b * padded_ + j];
                const float gained = lines_lose - lost(both.data()) - loins_lose;
                if (gained > most) most = gained, best = b;
            }
            if (!clock_.go_on_after(1 + tried - tried_before)) return tried;
            if (best == moves_.size()) continue;
            const std::int64_t before = choice_.value();
            const std::uint32_t was_a = choice_.plan(moves_[a].unit), was_b = choice_.plan(moves_[best].unit);
            choice_.set(moves_[a].unit, moves_[a].plan);
            choice_.set(moves_[best].unit, moves_[best].plan);
            if (choice_.value() <= before) {
                choice_.set(moves_[a].unit, was_a);
                choice_.set(moves_[best].unit, was_b);
                continue;
            }
            moved[moves_[a].unit] = moved[moves_[best].unit] = true;
            any = true;
            read_lines();
            lines_lose = lost(first.data());
        }
        if (any) choice_.exchange(clock_);
    }
    return tried;
}

} // namespace tranche::detail
