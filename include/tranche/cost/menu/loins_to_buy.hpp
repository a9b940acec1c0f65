// How many loins to buy so that there is enough with a stated probability, when neither loins nor guests are sure.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <utility>
#include <vector>

#include <tranche/cost/menu/portion_counts.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

namespace detail {

/// The distribution of the portions of several independent loins; what is at least `most` counts as `most`. Only the window
/// is held outside of which, on either side, lies less than 10^-20 of it. What is left out of a sum of k loins is less than
/// 4 k × 10^-20, because a sum of sums leaves out what either did and one more window: 4 × 10^-16 of 10,000.
class portion_sum {
public:
    /// No loin at all.
    explicit portion_sum(std::size_t most) : most_(most), probability_{1.0} {}
    portion_sum(const count_distribution& loin, std::size_t most) : most_(most) {
        probability_.resize(std::min(loin.probability.size(), most + 1));
        for (std::size_t n = 0; n < loin.probability.size(); ++n)
            probability_[std::min(n, most)] += loin.probability[n];
        narrow();
    }
    /// O(window of one × window of the other).
    [[nodiscard]] friend portion_sum operator+(const portion_sum& a, const portion_sum& b) {
        portion_sum sum(a.most_);
        sum.first_ = std::min(a.first_ + b.first_, a.most_);
        sum.probability_.assign(std::min(a.probability_.size() + b.probability_.size() - 1, a.most_ - sum.first_ + 1),
                                0.0);
        std::vector<double> at_least = b.probability_; // P(of b, this or more)
        for (std::size_t j = at_least.size() - 1; j > 0; --j) at_least[j - 1] += at_least[j];
        const std::size_t last = sum.probability_.size() - 1;
        for (std::size_t i = 0; i <= std::min(last, a.probability_.size() - 1); ++i) {
            const double p = a.probability_[i];
            if (p == 0.0) continue;
            const std::size_t below = std::min(b.probability_.size(), last - i);
            for (std::size_t j = 0; j < below; ++j) sum.probability_[i + j] += p * b.probability_[j];
            if (below < at_least.size()) sum.probability_[last] += p * at_least[below];
        }
        for (std::size_t i = last + 1; i < a.probability_.size(); ++i)
            sum.probability_[last] += a.probability_[i] * at_least[0];
        sum.narrow();
        return sum;
    }
    /// P(sum >= demand) = Σ P(sum = a) P(demand <= a), with the latter in `wanted_at_most`. O(window).
    [[nodiscard]] double covers(const std::vector<double>& wanted_at_most) const {
        double result = 0.0;
        for (std::size_t i = 0; i < probability_.size(); ++i) result += probability_[i] * wanted_at_most[first_ + i];
        return std::min(1.0, result);
    }
    /// How many numbers of portions are held.
    [[nodiscard]] std::size_t window() const { return probability_.size(); }

private:
    void narrow() {
        constexpr double left_out = 1e-20;
        double all = 0.0, low = 0.0, high = 0.0;
        std::size_t begin = 0, end = probability_.size();
        for (const double p : probability_) all += p;
        while (begin + 1 < end && low + probability_[begin] < left_out) low += probability_[begin++];
        while (begin + 1 < end && high + probability_[end - 1] < left_out) high += probability_[--end];
        probability_.erase(probability_.begin() + static_cast<std::ptrdiff_t>(end), probability_.end());
        probability_.erase(probability_.begin(), probability_.begin() + static_cast<std::ptrdiff_t>(begin));
        first_ += begin;
        for (double& p : probability_) p /= all; // or the rounding of a sum would double with every doubling
    }

    std::size_t most_, first_ = 0;
    std::vector<double> probability_;
};

/// P(demand <= a) for each a up to the largest demand.
[[nodiscard]] inline std::vector<double> at_most(const count_distribution& wanted) {
    std::vector<double> result;
    double sum = 0.0;
    for (const double p : wanted.probability) result.push_back(sum += p);
    return result;
}

} // namespace detail

/// P(enough) of that many independent loins: P(S >= D) = Σ P(S = a) P(D <= a), where the distribution of S comes by doubling
/// the number of loins; exact but for rounding and tails of less than 10^-15. Demand does not depend on the loins. Throws
/// `invalid_input` for a bad distribution, and for loins that are negative or more than `largest_count`. Both sums of a
/// doubling have a window of w portions, at most the largest demand, and in practice of some 20 standard deviations of S:
/// O(w² log loins), and w of memory. `loins` is 0 to 10,000. Both distributions are of whole portions, with
/// probabilities of 0 to 1 that add up to 1.
template <class = detail::when_called>
[[nodiscard]] double probability_of_enough(std::int64_t loins, const count_distribution& loin,
                                           const count_distribution& wanted) {
    validate(loin, "loin");
    validate(wanted, "wanted");
    const std::size_t most = wanted.probability.size() - 1;
    detail::portion_sum sum(most), power(loin, most);
    for (std::size_t k = detail::checked_count(loins, 0, "loins"); k > 0; k /= 2) {
        if (k % 2 != 0) sum = sum + power;
        if (k > 1) power = power + power;
    }
    return sum.covers(detail::at_most(wanted));
}

/// An order of loins. Both probabilities are shown, so that the step to one loin fewer can be weighed.
struct loin_order {
    std::int64_t loins = 0;   ///< none where guests may stay away often enough
    double probability = 0.0; ///< of having enough
    /// The same with one loin fewer: below what was asked for; none where no loin is asked for.
    std::optional<double> with_one_fewer{};
    double expected_surplus = 0.0; ///< mean of portions - mean of demand; may be negative where little is asked for

    friend bool operator==(const loin_order&, const loin_order&) = default;
};

/// The smallest number of loins that is enough with probability at least `probability`, above 0 and at most 1 (1: in every
/// case that has a probability); none if `largest_count` are not. It is found by halving, because more loins are never less
/// often enough. A probability that misses by 1e-12 is taken for reached, because sums round. Throws as
/// `probability_of_enough`. O(w² log loins) with its window w, and O(w log loins) of memory.
template <class = detail::when_called>
[[nodiscard]] std::optional<loin_order> loins_to_buy(const count_distribution& loin, const count_distribution& wanted,
                                                     double probability) {
    if (!(probability > 0.0 && probability <= 1.0))
        throw invalid_input("probability", detail::shown(probability), "above 0, at most 1");
    validate(loin, "loin");
    validate(wanted, "wanted");
    const std::vector<double> wanted_at_most = detail::at_most(wanted);
    const auto covered = [&](const detail::portion_sum& sum) { return sum.covers(wanted_at_most); };
    const auto enough = [&](double p) { return p >= probability - 1e-12; };

    const std::size_t most = wanted_at_most.size() - 1;
    detail::portion_sum too_few(most);
    loin_order order{0, covered(too_few), std::nullopt, -wanted.mean()};
    if (enough(order.probability)) return order;
    order.with_one_fewer = order.probability;
    std::vector<detail::portion_sum> powers{{loin, most}}; // of 1, 2, 4 ... loins
    while (!enough(covered(powers.back())) && std::int64_t{2} << (powers.size() - 1) <= detail::largest_count)
        powers.push_back(powers.back() + powers.back());
    for (std::size_t i = powers.size();
         i-- > 0;) { // `loins` are too few, loins + 2^(i + 1) enough or beyond the largest
        const std::int64_t loins = order.loins + (std::int64_t{1} << i);
        if (loins > detail::largest_count) continue;
        detail::portion_sum more = too_few + powers[i];
        const double p = covered(more);
        if (enough(p)) {
            order.probability = p;
            continue;
        }
        too_few = std::move(more);
        order.loins = loins;
        order.with_one_fewer = p;
    }
    if (order.loins == detail::largest_count) return std::nullopt;
    ++order.loins;
    order.expected_surplus += static_cast<double>(order.loins) * loin.mean();
    return order;
}

} // namespace tranche
