// Where to look next for better prices of demands, from the plans that prices have led to so far: a proximal bundle.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>
#include <vector>

#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// A row that has a price m: least ≤ n ≤ most for the n of a plan. It adds max(-m least, -m most) to the bound; one without a
/// cap has no price below zero, and adds -m least.
struct priced_row {
    double least = 0.0, most = 0.0;
    bool capped = false;
    double beyond = 0.0; ///< no price is larger than this

    [[nodiscard]] double constant(double price) const { return price * (price < 0.0 ? most : least); }
    /// The price that minimises n m - constant(m) + (m - from)² / (2 reach), within what is allowed.
    [[nodiscard]] double nearest(double from, double reach, double n) const {
        const double up = from - unfused(reach * (n - least)), down = from - unfused(reach * (n - most));
        double price = std::max(up, 0.0);
        if (capped && down < 0.0 && up <= 0.0) price = down;
        return std::clamp(price, -beyond, beyond);
    }
};

/// The bound at prices m is the largest of (score of a plan + Σ m_k n_k) over all plans, less the constants: convex, and each
/// plan seen gives a plane below it. The next prices to look at minimise the largest of those planes plus a term that keeps
/// them near the best ones so far (Lemaréchal 1975, proximal bundle method, from memory; in the terms of linear programming,
/// stabilised column generation). That is solved over mixtures of the plans seen, two plans at a time.
template <class = when_called>
class price_search {
public:
    explicit price_search(std::vector<priced_row> rows)
        : rows_(std::move(rows)), centre_(rows_.size()), next_(rows_.size()) {}

    /// The prices to look at.
    [[nodiscard]] const std::vector<double>& prices() const { return next_; }
    /// The best ones so far.
    [[nodiscard]] const std::vector<double>& best() const { return centre_; }

    /// What those led to: the bound, and the plan's score without prices and its n by row. `reached` is a score that a plan
    /// that meets all rows has, or about what one might.
    void found(double bound, double score, std::vector<double> n, double reached) {
        plans_.push_back({score, std::move(n), 0.0});
        if (plans_.size() == 1) { // the first prices are all zero
            plans_.front().share = 1.0;
            bound_ = bound;
            double square = 0.0;
            for (std::size_t k = 0; k < rows_.size(); ++k) {
                const double off =
                    std::max(rows_[k].least - plans_[0].n[k], rows_[k].capped ? plans_[0].n[k] - rows_[k].most : 0.0);
                square += off > 0.0 ? unfused(off * off) : 0.0;
            }
            const double aim = std::max(bound - reached, unfused(1e-3 * std::abs(bound)));
            reach_ = square > 0.0 ? aim / square : aim;
            least_reach_ = 1e-6 * reach_;
            return;
        }
        if (bound < bound_ - unfused(0.1 * expected_)) {
            if (bound < bound_ - unfused(0.5 * expected_)) reach_ *= 2.0;
            centre_ = next_;
            bound_ = bound;
            in_vain_ = 0;
        } else if (++in_vain_ % 4 == 0) {
            reach_ = std::max(0.6 * reach_, least_reach_);
        }
    }

    /// Finds the next prices; false if none can lower the bound by more than `worth_it`.
    [[nodiscard]] bool advance(double worth_it) {
        for (int wider = 0; wider < 6; ++wider) {
            mix();
            double highest = value(plans_.front());
            for (const plan& p : plans_) highest = std::max(highest, value(p));
            for (std::size_t k = 0; k < rows_.size(); ++k) highest -= unfused(rows_[k].constant(next_[k]));
            expected_ = bound_ - highest;
            if (expected_ > worth_it) return true;
            reach_ *= 8.0;
        }
        return false;
    }

private:
    struct plan {
        double score = 0.0;
        std::vector<double> n;
        double share = 0.0; ///< of the mixture
    };

    [[nodiscard]] double value(const plan& p) const {
        double sum = p.score;
        for (std::size_t k = 0; k < rows_.size(); ++k) sum += unfused(next_[k] * p.n[k]);
        return sum;
    }

    /// Moves shares to the plan that is worth most at the mixture's prices, from the one in it that is worth least.
    void mix() {
        std::vector<double> mixed(rows_.size());
        const auto price = [&] {
            for (std::size_t k = 0; k < rows_.size(); ++k) next_[k] = rows_[k].nearest(centre_[k], reach_, mixed[k]);
        };
        for (const plan& p : plans_)
            for (std::size_t k = 0; k < rows_.size(); ++k) mixed[k] += unfused(p.share * p.n[k]);
        for (int step = 0; step < most_steps; ++step) {
            price();
            std::size_t high = 0, low = plans_.size();
            double highest = 0.0, lowest = 0.0;
            for (std::size_t i = 0; i < plans_.size(); ++i) {
                const double v = value(plans_[i]);
                if (i == 0 || highest < v) high = i, highest = v;
                if (plans_[i].share > 0.0 && (low == plans_.size() || v < lowest)) low = i, lowest = v;
            }
            const double gain = highest - lowest;
            if (high == low || !(gain > unfused(1e-9 * std::abs(highest)))) break;
            double bend = 0.0;
            for (std::size_t k = 0; k < rows_.size(); ++k) {
                const double d = plans_[high].n[k] - plans_[low].n[k];
                bend += unfused(d * d);
            }
            bend *= reach_;
            const double moved = bend > 0.0 ? std::min(plans_[low].share, gain / bend) : plans_[low].share;
            plans_[low].share = moved < plans_[low].share ? plans_[low].share - moved : 0.0;
            plans_[high].share += moved;
            for (std::size_t k = 0; k < rows_.size(); ++k)
                mixed[k] += unfused(moved * (plans_[high].n[k] - plans_[low].n[k]));
        }
        price();
    }

    static constexpr int most_steps = 400;

    std::vector<priced_row> rows_;
    std::vector<plan> plans_;
    std::vector<double> centre_, next_;
    double bound_ = 0.0, expected_ = 0.0; ///< at the best prices; by how much the next ones may lower it
    double reach_ = 1.0, least_reach_ = 0.0;
    int in_vain_ = 0;
};

} // namespace tranche::detail
