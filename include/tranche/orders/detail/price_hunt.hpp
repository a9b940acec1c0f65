// The prices of the lines at which loins offer just about what is wanted, and the bound that they give.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <optional>
#include <utility>
#include <vector>

#include <tranche/orders/detail/line_worth.hpp>
#include <tranche/orders/detail/offer_pools.hpp>
#include <tranche/orders/detail/price_master.hpp>
#include <tranche/units/detail/wide_integer.hpp>

namespace tranche::detail {

/// Which offers of a group the programme takes, and to what share.
struct shared_offer {
    std::size_t pass = 0;
    double share = 0.0;
};

/// What a hunt for prices is told.
struct hunt_terms {
    std::vector<std::uint32_t> kinds{}; ///< that take part, rising
    std::vector<std::int64_t> counts{}; ///< of loins of those; all there are if left out
    std::vector<bool> anyway{};         ///< of those, which are opened whether that pays or not; if it pays if left out
    double scale = 1.0;                 ///< of the demands
    std::size_t most_groups = 20;
    std::vector<double> from{}; ///< prices to start at, in units of the currency; lines behind them start in the middle
    double reach = 0.3;         ///< of the box around them, as a share
    double tolerance = 2e-5;    ///< of the bound
    std::size_t most_passes = 400;
    std::int64_t enough =
        std::numeric_limits<std::int64_t>::min(); ///< a bound no better than that ends it, in billionths
};

/// Prices, and how they were found.
struct found_prices {
    std::vector<double> prices{};      ///< the best seen, in units of the currency
    std::vector<std::int64_t> whole{}; ///< in billionths
    wide_integer bound = 0;            ///< of the kinds that took part and the lines, in billionths; only if scale is 1
    double value = 0.0;                ///< of the programme, in units of the currency
    std::size_t groups = 0, passes = 0;
    std::vector<std::vector<shared_offer>> mix{};    ///< by group
    std::vector<std::vector<std::uint32_t>> picks{}; ///< by pass, of each kind that took part: a number in its pool
    bool converged = false;
};

/// The bundle in a box (Marsten, Hogan and Blankenship 1975, doi 10.1287/opre.23.3.389, with a cut a group): the programme
/// over all offers seen gives the next prices, within a box around the best so far; the box grows when it was too small and shrinks
/// when the programme promised too much.
class price_hunt {
public:
    price_hunt(offer_pools& pools, const std::vector<line_worth>& lines, hunt_terms terms)
        : pools_(pools), lines_(lines), terms_(std::move(terms)),
          groups_(terms_.kinds.size() <= 2 * terms_.most_groups ? terms_.kinds.size() : terms_.most_groups) {
        for (const line_worth& line : lines_) {
            low_.push_back(1e-9 * static_cast<double>(line.lowest()));
            high_.push_back(1e-9 * static_cast<double>(line.highest()));
        }
    }

    template <class = when_called>
    [[nodiscard]] found_prices run();

private:
    /// Offers at these prices: by how much loins and lines gain at them, in billionths, and the sums of the groups in `worth_` and
    /// `portions_`.
    template <class = when_called>
    [[nodiscard]] double ask(const std::vector<double>& at, found_prices& found, wide_integer& gained);
    [[nodiscard]] double clamped(double price, std::size_t line) const {
        return std::clamp(price, low_[line], high_[line]);
    }

    offer_pools& pools_;
    const std::vector<line_worth>& lines_;
    hunt_terms terms_;
    std::size_t groups_;
    std::vector<double> low_, high_;
    std::vector<wide_integer> worth_;
    std::vector<std::int64_t> portions_;
    std::vector<std::int64_t> whole_;
};

template <class>
double price_hunt::ask(const std::vector<double>& at, found_prices& found, wide_integer& gained) {
    const std::size_t m = lines_.size();
    whole_.resize(m);
    for (std::size_t j = 0; j < m; ++j)
        whole_[j] = std::clamp<std::int64_t>(std::llround(at[j] * 1e9), lines_[j].lowest(), lines_[j].highest());
    found.picks.emplace_back();
    pools_.ask(whole_, terms_.kinds, found.picks.back(), terms_.anyway);
    ++found.passes;
    worth_.assign(groups_, 0);
    portions_.assign(groups_ * m, 0);
    for (std::size_t i = 0; i < terms_.kinds.size(); ++i) {
        const offer_pool& pool = pools_.of(terms_.kinds[i]);
        const std::int64_t count =
            terms_.counts.empty() ? pools_.facts().kinds[terms_.kinds[i]].count : terms_.counts[i];
        const std::uint32_t plan = found.picks.back()[i];
        worth_[i % groups_] += static_cast<wide_integer>(pool.worth(plan)) * count;
        const std::uint16_t* const portions = pool.portions(plan);
        std::int64_t* const sums = portions_.data() + (i % groups_) * m;
        for (std::size_t j = 0; j < pools_.lines(); ++j) sums[j] += count * portions[j];
        if (m > pools_.lines() && pools_.opened(i)) sums[m - 1] += count; // a line of loins
    }
    gained = 0;
    double sum = 0.0;
    for (std::size_t g = 0; g < groups_; ++g) {
        gained += worth_[g];
        for (std::size_t j = 0; j < m; ++j) gained += static_cast<wide_integer>(portions_[g * m + j]) * whole_[j];
    }
    sum = static_cast<double>(gained);
    for (std::size_t j = 0; j < m; ++j) {
        const wide_integer beyond = lines_[j].beyond(whole_[j]);
        gained += beyond;
        sum += terms_.scale * static_cast<double>(beyond);
    }
    return 1e-9 * sum;
}

template <class>
found_prices price_hunt::run() {
    const std::size_t m = lines_.size();
    std::vector<bool> may_offer_nothing(groups_, true);
    for (std::size_t i = 0; i < terms_.kinds.size(); ++i)
        if (pools_.facts().kinds[terms_.kinds[i]].always || (!terms_.anyway.empty() && terms_.anyway[i]))
            may_offer_nothing[i % groups_] = false;
    price_master master(lines_, terms_.scale, may_offer_nothing);
    double constant = 0.0; // what lines are worth with nothing made: the programme counts what is missing from there
    for (const line_worth& line : lines_)
        constant += terms_.scale * 1e-9 *
                    (static_cast<double>(line.at_zero()) +
                     static_cast<double>(line.slopes()[0]) * static_cast<double>(line.wanted()));

    found_prices found;
    found.groups = groups_;
    std::vector<double> centre(m), at(m), low(m), high(m);
    for (std::size_t j = 0; j < m; ++j)
        centre[j] = clamped(j < terms_.from.size() ? terms_.from[j] : 0.5 * (low_[j] + high_[j]), j);
    at = centre;
    double best = 0.0, reach = terms_.reach;
    std::vector<std::size_t> offers; // by pass, then group
    bool first = true;
    for (;;) {
        wide_integer gained = 0;
        const double gain = ask(at, found, gained);
        for (std::size_t g = 0; g < groups_; ++g) {
            std::vector<double> portions(m);
            for (std::size_t j = 0; j < m; ++j) portions[j] = static_cast<double>(portions_[g * m + j]);
            offers.push_back(master.offer(g, 1e-9 * static_cast<double>(worth_[g]), portions));
        }
        const bool touched = !first && [&] {
            for (std::size_t j = 0; j < m; ++j)
                if ((at[j] <= low[j] && low[j] > low_[j]) || (at[j] >= high[j] && high[j] < high_[j])) return true;
            return false;
        }();
        if (first || gain < best) {
            if (!first && touched && best - gain > 0.5 * (best - found.value)) reach *= 2.0;
            best = gain;
            centre = at;
            found.whole = whole_;
            found.bound = gained;
        } else {
            reach *= 0.6;
        }
        first = false;
        if (found.bound <= terms_.enough) break;
        bool inside = false, solved = true;
        for (;;) { // a box that the programme is at the end of, with nothing left to gain in it, grows
            for (std::size_t j = 0; j < m; ++j) {
                const double wide = reach * std::max(std::abs(centre[j]), 1e-3 * (high_[j] - low_[j]));
                low[j] = std::max(low_[j], centre[j] - wide);
                high[j] = std::min(high_[j], centre[j] + wide);
            }
            master.set_box(low, high);
            if (solved = master.solve(); !solved) break;
            found.value = master.value() + constant;
            inside = true;
            for (std::size_t j = 0; j < m; ++j) {
                at[j] = std::clamp(master.price(j), low[j], high[j]);
                const double edge = 1e-7 * (high[j] - low[j]);
                if ((at[j] <= low[j] + edge && low[j] > low_[j]) || (at[j] >= high[j] - edge && high[j] < high_[j]))
                    inside = false;
                if (at[j] <= low[j] + edge) at[j] = low[j];
                if (at[j] >= high[j] - edge) at[j] = high[j];
            }
            if (inside || best - found.value > 0.3 * terms_.tolerance * std::abs(best)) break;
            reach *= 4.0;
        }
        if (solved && !inside && best - found.value <= terms_.tolerance * std::abs(best)) {
            // Done, if so little is to be gained without a box as well.
            const std::vector<double> next = at;
            const double boxed = found.value;
            master.set_box(low_, high_);
            if (solved = master.solve(); solved) {
                found.value = master.value() + constant;
                inside = best - found.value <= terms_.tolerance * std::abs(best);
            }
            if (!inside) found.value = boxed, at = next;
        }
        if (inside && best - found.value <= terms_.tolerance * std::abs(best)) {
            found.converged = true;
            break;
        }
        if (!solved || found.passes >= terms_.most_passes || !pools_.clock().go_on(terms_.kinds.size())) break;
    }
    found.prices = centre;
    found.mix.resize(groups_);
    for (std::size_t p = 0; p < found.passes; ++p)
        for (std::size_t g = 0; g < groups_; ++g)
            if (const double share = master.share(offers[p * groups_ + g]); share > 1e-9)
                found.mix[g].push_back({p, share});
    return found;
}

} // namespace tranche::detail
