// A bound that knows that loins are opened whole: no more than so many of them, or one more at least.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <utility>
#include <vector>

#include <tranche/orders/detail/line_worth.hpp>
#include <tranche/orders/detail/offer_pools.hpp>
#include <tranche/orders/detail/price_hunt.hpp>

namespace tranche::detail {

/// Prices that open thirteen and a half loins have a bound that no plan comes near. Of the plans that open no more than thirteen, and of
/// those that open fourteen or more, each has a bound of its own with a price for opening, and the better of both holds for all.
class opened_branch {
public:
    opened_branch(offer_pools& pools, const std::vector<std::uint32_t>& kinds) : pools_(pools), kinds_(kinds) {}

    /// How many loins the shares of some prices open.
    template <class = when_called>
    [[nodiscard]] double opened(const found_prices& found) const {
        std::vector<std::vector<double>> shares(found.groups, std::vector<double>(found.passes, 0.0));
        for (std::size_t g = 0; g < found.groups; ++g)
            for (const shared_offer& offer : found.mix[g]) shares[g][offer.pass] += offer.share;
        double sum = 0.0;
        for (std::size_t i = 0; i < kinds_.size(); ++i) {
            const order_kind& kind = pools_.facts().kinds[kinds_[i]];
            for (std::size_t p = 0; p < found.passes; ++p)
                if (kind.always || found.picks[p][i] != 0)
                    sum += static_cast<double>(kind.count) * shares[i % found.groups][p];
        }
        return sum;
    }
    [[nodiscard]] std::int64_t all_loins() const {
        std::int64_t sum = 0;
        for (const std::uint32_t k : kinds_) sum += pools_.facts().kinds[k].count;
        return sum;
    }
    /// The lines of the order, and one more of the loins that are opened, at most or at least so many.
    template <class = when_called>
    [[nodiscard]] std::vector<line_worth> lines(std::int64_t loins, bool at_least) const {
        const std::int64_t each = std::min<std::int64_t>(100'000'000'000'000, // dearer than loins
                                                         2'000'000'000'000'000'000 / (all_loins() + 1));
        std::vector<line_worth> counted = pools_.facts().lines;
        counted.push_back(at_least ? line_worth::at_least(loins, each) : line_worth::at_most(loins, each));
        return counted;
    }
    /// The best prices of plans that keep to that, from others.
    template <class = when_called>
    [[nodiscard]] found_prices hunt(const std::vector<line_worth>& counted, const found_prices& from,
                                    double tolerance) const {
        hunt_terms terms{
            .kinds = kinds_, .from = from.prices, .reach = 0.01, .tolerance = tolerance, .most_passes = 100};
        terms.from.resize(counted.size());
        return price_hunt(pools_, counted, std::move(terms)).run();
    }

private:
    offer_pools& pools_;
    const std::vector<std::uint32_t>& kinds_;
};

} // namespace tranche::detail
