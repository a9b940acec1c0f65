// Orders over loins of an even face, whose portions have one thickness each: a cutting-stock problem, solved to the end.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <numeric>
#include <utility>
#include <vector>

#include <tranche/orders/detail/offer_pools.hpp>
#include <tranche/orders/detail/order_choice.hpp>
#include <tranche/orders/detail/order_dive.hpp>
#include <tranche/orders/detail/order_search.hpp>
#include <tranche/orders/detail/price_master.hpp>

namespace tranche::detail {

/// A kind of loin on which only the number of portions matters: any fit whose widths add up to no more than the room.
struct prism_kind {
    std::int64_t cost = 0, count = 1;
    std::size_t room = 0;            ///< in cells of its grid; as if every slab had a kerf behind it
    std::vector<std::size_t> widths; ///< by line, with kerf; 0 for a cut that it does not give
};

/// What to cut: so many loins of a kind, each into these portions.
struct prism_pattern {
    std::size_t kind = 0;
    std::int64_t times = 1;
    std::vector<std::int64_t> slabs{}; ///< by line
};

/// Least cost of loins and of portions missing, where a portion too many is worth nothing: prices by the programme over patterns that
/// bounded knapsacks offer, with no more of a line than is wanted (Gilmore and Gomory 1961, doi 10.1287/opre.9.6.849); the bound goes
/// up to the next sum that loins can cost; then patterns are fixed and taken back.
class prism_search {
public:
    prism_search(std::vector<prism_kind> kinds, std::vector<std::int64_t> wanted, std::vector<std::int64_t> unfilled,
                 order_clock& clock)
        : kinds_(std::move(kinds)), unfilled_(std::move(unfilled)), wanted_(std::move(wanted)), clock_(clock) {}

    struct outcome {
        std::vector<prism_pattern> patterns{};
        std::vector<std::int64_t> prices{};
        std::int64_t cost = 0, bound = 0;
        std::size_t knapsacks = 0;
    };
    template <class = when_called>
    [[nodiscard]] outcome run(std::size_t most_nodes) {
        best_ = outcome{};
        best_.cost = 0;
        for (std::size_t j = 0; j < wanted_.size(); ++j) best_.cost += unfilled_[j] * wanted_[j];
        nodes_left_ = most_nodes;
        node root{.left = wanted_};
        for (const prism_kind& kind : kinds_) root.loins.push_back(kind.count);
        bool done = explore(root, 0, nothing_aside);
        const relaxed whole = done ? relaxed{} : relax(root);
        const std::size_t of_all = patterns_.size();
        std::size_t rest = nodes_left_;
        for (std::size_t round = 0; !done && rest > 0 && !clock_.ended(); ++round) {
            const std::size_t some = std::min<std::size_t>(rest, round % 2 == 0 ? 300 : 50);
            nodes_left_ = some;
            patterns_.erase(patterns_.begin() + static_cast<std::ptrdiff_t>(of_all), patterns_.end());
            turns_.assign(wanted_.size(), 0.0);
            for (double& turn : turns_)
                if (round > 0) turn = static_cast<double>(dice_.below(1000)) * 2e-3;
            quick_ = round % 2 == 0; // by the prices of the whole order, which takes a knapsack or two a step
            explore(rounded_down(root, whole, round / 2 % 3), 1, round / 2 % 4);
            done = best_.bound >= best_.cost;
            rest -= some - nodes_left_;
        }
        if (done) best_.bound = best_.cost;
        best_.knapsacks = knapsacks_;
        return best_;
    }

private:
    static constexpr std::size_t nothing_aside = std::numeric_limits<std::size_t>::max();

    struct node {
        std::vector<std::int64_t> left{};  ///< portions, by line
        std::vector<std::int64_t> loins{}; ///< by kind
        std::vector<prism_pattern> fixed{};
        std::int64_t cost = 0;
        std::vector<std::int64_t> prices{}; ///< to bound it by, if those are good enough
    };
    struct relaxed {
        std::int64_t bound = 0;
        std::vector<std::pair<double, std::size_t>> shares{}; ///< how many loins; number of the pattern
        std::vector<std::int64_t> prices{};
    };

    /// Best numbers of slabs at these prices for every kind, with no more portions than are left; by bounded knapsacks.
    template <class = when_called>
    void fill(const std::vector<std::int64_t>& prices, const std::vector<std::int64_t>& left);
    [[nodiscard]] std::vector<std::int64_t> pattern_of(std::size_t kind, std::size_t room) const;
    template <class = when_called>
    [[nodiscard]] relaxed relax(const node& at);
    /// The bound of prices that are known.
    template <class = when_called>
    [[nodiscard]] relaxed at_prices(const node& at) {
        relaxed result{.prices = at.prices};
        fill(result.prices, at.left);
        wide_integer bound = 0;
        for (std::size_t j = 0; j < wanted_.size(); ++j)
            bound += static_cast<wide_integer>(result.prices[j]) * at.left[j];
        for (std::size_t k = 0; k < kinds_.size(); ++k)
            bound -= static_cast<wide_integer>(
                         std::max<std::int64_t>(0, values_[group_of_[k]][kinds_[k].room] - kinds_[k].cost)) *
                     at.loins[k];
        result.bound = static_cast<std::int64_t>(std::max<wide_integer>(bound, 0));
        return result;
    }
    /// Most of what the programme wants of each pattern, in whole loins; the fewer the less.
    [[nodiscard]] node rounded_down(const node& root, const relaxed& whole, std::size_t less) const {
        node result = root;
        result.prices = whole.prices;
        for (const auto& [share, p] : whole.shares) {
            const auto loins = static_cast<std::int64_t>((less == 2 ? 0.8 : 1.0) * share + 1e-6) - (less == 1 ? 1 : 0);
            if (loins > 0) fix(result, patterns_[p], loins);
        }
        return result;
    }
    void fix(node& at, prism_pattern pattern, std::int64_t times) const {
        pattern.times = times;
        for (std::size_t j = 0; j < wanted_.size(); ++j)
            at.left[j] = std::max<std::int64_t>(0, at.left[j] - times * pattern.slabs[j]);
        at.loins[pattern.kind] -= times;
        at.cost += times * kinds_[pattern.kind].cost;
        at.fixed.push_back(std::move(pattern));
    }
    /// Which patterns to try first, and how many loins of each.
    template <class = when_called>
    [[nodiscard]] std::vector<prism_pattern> patterns_to_fix(const node& at, const relaxed& relaxation, bool diving);
    /// Whether all below it is known to be no better than the best found. Patterns that are not the first choice are taken as often as
    /// `aside` says in all (limited discrepancy, Harvey and Ginsberg 1995); the likeliest alone, to have some plan, by `nothing_aside`.
    template <class = when_called>
    bool explore(const node& at, std::size_t depth, std::size_t aside);
    /// The least sum of costs of loins and portions missing that is no less than this and below the best.
    template <class = when_called>
    [[nodiscard]] std::int64_t attainable(std::int64_t least) const;

    std::vector<prism_kind> kinds_;
    std::vector<std::int64_t> unfilled_, wanted_;
    order_clock& clock_;
    outcome best_;
    std::size_t nodes_left_ = 0, knapsacks_ = 0;
    std::vector<double> turns_; ///< by line: what is rather taken in this round, among patterns as good
    order_dice dice_{11};
    bool quick_ = false;
    std::vector<prism_pattern> patterns_;
    std::vector<std::vector<std::int64_t>> values_; ///< by group of equal widths, then room
    std::vector<std::vector<std::uint32_t>> taken_; ///< by group, then line × room
    std::vector<std::size_t> group_of_, group_room_, group_kind_;
};

template <class>
void prism_search::fill(const std::vector<std::int64_t>& prices, const std::vector<std::int64_t>& left) {
    if (group_of_.empty()) { // kinds that differ in room only share a table
        for (std::size_t k = 0; k < kinds_.size(); ++k) {
            std::size_t g = 0;
            while (g < group_kind_.size() && kinds_[group_kind_[g]].widths != kinds_[k].widths) ++g;
            if (g == group_kind_.size()) group_kind_.push_back(k), group_room_.push_back(0);
            group_of_.push_back(g);
            group_room_[g] = std::max(group_room_[g], kinds_[k].room);
        }
        values_.resize(group_kind_.size());
        taken_.resize(group_kind_.size());
    }
    for (std::size_t g = 0; g < group_kind_.size(); ++g) {
        const prism_kind& of = kinds_[group_kind_[g]];
        const std::size_t rooms = group_room_[g] + 1;
        ++knapsacks_;
        std::vector<std::int64_t>& value = values_[g];
        value.assign(rooms, 0);
        taken_[g].assign(rooms * prices.size(), 0);
        for (std::size_t j = 0; j < prices.size(); ++j) {
            const std::size_t width = of.widths[j];
            if (width == 0 || prices[j] <= 0 || left[j] == 0) continue;
            // One, two, four ... of them at a time, and the rest: any number up to the most is a sum of those.
            std::uint32_t* const taken = taken_[g].data() + j * rooms;
            auto most = static_cast<std::size_t>(
                std::min<std::int64_t>(left[j], static_cast<std::int64_t>((rooms - 1) / width)));
            for (std::size_t n = 1; most > 0; n *= 2) {
                n = std::min(n, most);
                most -= n;
                const std::int64_t price = prices[j] * static_cast<std::int64_t>(n);
                for (std::size_t room = rooms; room-- > n * width;)
                    if (const std::int64_t with = value[room - n * width] + price; with > value[room]) {
                        value[room] = with;
                        taken[room] = taken[room - n * width] + static_cast<std::uint32_t>(n);
                    }
            }
        }
    }
}

inline std::vector<std::int64_t> prism_search::pattern_of(std::size_t kind, std::size_t room) const {
    const std::size_t g = group_of_[kind], rooms = group_room_[g] + 1;
    std::vector<std::int64_t> slabs(wanted_.size());
    for (std::size_t j = wanted_.size(); j-- > 0;) {
        slabs[j] = taken_[g][j * rooms + room];
        room -= static_cast<std::size_t>(slabs[j]) * kinds_[kind].widths[j];
    }
    return slabs;
}

template <class>
prism_search::relaxed prism_search::relax(const node& at) {
    const std::size_t m = wanted_.size();
    std::vector<line_worth> lines;
    for (std::size_t j = 0; j < m; ++j) lines.emplace_back(line_worth::exact(at.left[j], unfilled_[j]));
    std::vector<bool> may(kinds_.size(), true);
    price_master master(lines, 1.0, may);
    std::vector<double> low(m), high(m);
    for (std::size_t j = 0; j < m; ++j) high[j] = at.left[j] > 0 ? 1e-9 * static_cast<double>(unfilled_[j]) : 0.0;
    master.set_box(low, high);
    std::vector<std::size_t> offered;
    const auto offer = [&](std::size_t p) {
        const prism_pattern& pattern = patterns_[p];
        const auto loins = static_cast<double>(at.loins[pattern.kind]);
        std::vector<double> portions(m);
        for (std::size_t j = 0; j < m; ++j) portions[j] = loins * static_cast<double>(pattern.slabs[j]);
        master.offer(pattern.kind, -1e-9 * static_cast<double>(kinds_[pattern.kind].cost) * loins, portions);
        offered.push_back(p);
    };
    const auto proper = [&](const prism_pattern& pattern) {
        if (at.loins[pattern.kind] == 0) return false;
        for (std::size_t j = 0; j < m; ++j)
            if (pattern.slabs[j] > at.left[j]) return false;
        return true;
    };
    for (std::size_t p = 0; p < patterns_.size(); ++p)
        if (proper(patterns_[p])) offer(p);
    relaxed result;
    std::vector<std::int64_t> prices(m);
    for (std::size_t pass = 0; pass < 300; ++pass) {
        if (!master.solve()) break;
        for (std::size_t j = 0; j < m; ++j)
            prices[j] = std::clamp<std::int64_t>(std::llround(1e9 * std::clamp(master.price(j), 0.0, high[j])), 0,
                                                 at.left[j] > 0 ? unfilled_[j] : 0);
        fill(prices, at.left);
        wide_integer bound = 0;
        bool fresh = false;
        for (std::size_t j = 0; j < m; ++j) bound += static_cast<wide_integer>(prices[j]) * at.left[j];
        for (std::size_t k = 0; k < kinds_.size(); ++k) {
            if (at.loins[k] == 0) continue;
            const std::int64_t value = values_[group_of_[k]][kinds_[k].room];
            if (value <= kinds_[k].cost) continue;
            bound -= static_cast<wide_integer>(value - kinds_[k].cost) * at.loins[k];
            prism_pattern pattern{.kind = k, .times = 1, .slabs = pattern_of(k, kinds_[k].room)};
            const auto same = std::find_if(offered.begin(), offered.end(), [&](std::size_t p) {
                return patterns_[p].kind == k && patterns_[p].slabs == pattern.slabs;
            });
            if (same != offered.end()) continue;
            fresh = true;
            patterns_.push_back(std::move(pattern));
            offer(patterns_.size() - 1);
        }
        if (bound > result.bound || result.prices.empty()) { // at first prices it may be lower than 64 bits hold
            result.bound = static_cast<std::int64_t>(std::max<wide_integer>(bound, 0));
            result.prices = prices;
        }
        if (!fresh || !clock_.go_on(0)) break;
    }
    for (std::size_t i = 0; i < offered.size(); ++i)
        if (const double share = master.share(i); share > 1e-9)
            result.shares.emplace_back(share * static_cast<double>(at.loins[patterns_[offered[i]].kind]), offered[i]);
    return result;
}

template <class>
std::int64_t prism_search::attainable(std::int64_t least) const {
    std::vector<std::pair<std::int64_t, std::int64_t>> items; // cost and how many
    std::int64_t step = 0;
    const auto enter = [&](std::int64_t cost, std::int64_t count) {
        if (cost <= 0 || cost > best_.cost) return;
        items.emplace_back(cost, count);
        step = std::gcd(step, cost);
    };
    for (const prism_kind& kind : kinds_) enter(kind.cost, kind.count);
    for (std::size_t j = 0; j < wanted_.size(); ++j) enter(unfilled_[j], wanted_[j]);
    if (least <= 0 || step == 0 || best_.cost / step > 4'000'000) return least;
    const auto sums = static_cast<std::size_t>(best_.cost / step) + 1;
    constexpr std::uint32_t never = std::numeric_limits<std::uint32_t>::max();
    std::vector<bool> met(sums);
    met[0] = true;
    std::vector<std::uint32_t> used(sums);
    for (const auto& [cost, count] : items) {
        const auto width = static_cast<std::size_t>(cost / step);
        for (std::size_t s = 0; s < sums; ++s) {
            used[s] = met[s] ? 0 : never;
            if (met[s] || s < width || used[s - width] == never || used[s - width] >= count) continue;
            used[s] = used[s - width] + 1;
            met[s] = true;
        }
    }
    for (auto s = static_cast<std::size_t>((least + step - 1) / step); s < sums; ++s)
        if (met[s]) return static_cast<std::int64_t>(s) * step;
    return best_.cost;
}

template <class>
std::vector<prism_pattern> prism_search::patterns_to_fix(const node& at, const relaxed& relaxation, bool diving) {
    std::vector<prism_pattern> result;
    const auto enter = [&](prism_pattern pattern, std::int64_t times) {
        pattern.times = std::min(times, at.loins[pattern.kind]);
        for (std::size_t j = 0; j < wanted_.size(); ++j)
            if (pattern.slabs[j] > 0)
                pattern.times = std::min(pattern.times, std::max<std::int64_t>(1, at.left[j] / pattern.slabs[j]));
        const auto same = [&](const prism_pattern& other) {
            return other.kind == pattern.kind && other.slabs == pattern.slabs;
        };
        if (pattern.times > 0 && std::none_of(result.begin(), result.end(), same)) result.push_back(std::move(pattern));
    };
    if (!diving) {
        // The longest piece that is left has to go somewhere; beside it, of patterns as good, one of long pieces or of what has
        // its turn: short ones find a place in the end.
        std::vector<std::int64_t> prices = relaxation.prices, left = at.left;
        std::vector<std::size_t> widths(wanted_.size());
        for (const prism_kind& kind : kinds_)
            for (std::size_t j = 0; j < widths.size(); ++j) widths[j] = std::max(widths[j], kind.widths[j]);
        const double widest =
            static_cast<double>(std::max<std::size_t>(1, *std::max_element(widths.begin(), widths.end())));
        std::size_t longest = wanted_.size();
        for (std::size_t j = 0; j < prices.size(); ++j) {
            const double turn = static_cast<double>(widths[j]) / widest + turns_[j];
            prices[j] += static_cast<std::int64_t>(1e-6 * static_cast<double>(prices[j]) * turn);
            if (left[j] > 0 && (longest == wanted_.size() || widths[j] > widths[longest])) longest = j;
        }
        --left[longest];
        fill(prices, left);
        std::vector<std::pair<std::int64_t, std::size_t>> gains; // what each kind loses with it
        for (std::size_t k = 0; k < kinds_.size(); ++k) {
            const std::size_t width = kinds_[k].widths[longest];
            if (at.loins[k] == 0 || width == 0 || width > kinds_[k].room) continue;
            const std::int64_t value = values_[group_of_[k]][kinds_[k].room - width] + prices[longest];
            gains.emplace_back(kinds_[k].cost - value, k);
        }
        std::sort(gains.begin(), gains.end());
        for (std::size_t g = 0; g < std::min<std::size_t>(3, gains.size()); ++g) {
            const std::size_t k = gains[g].second;
            prism_pattern pattern{
                .kind = k, .times = 1, .slabs = pattern_of(k, kinds_[k].room - kinds_[k].widths[longest])};
            ++pattern.slabs[longest];
            enter(std::move(pattern), at.loins[k]);
        }
    }
    std::vector<std::pair<double, std::size_t>> shares = relaxation.shares;
    std::sort(shares.begin(), shares.end(), [](const auto& a, const auto& b) {
        return std::pair{-a.first, a.second} < std::pair{-b.first, b.second};
    });
    for (const auto& [share, p] : shares) {
        if (result.size() == 5) break;
        enter(patterns_[p], std::max<std::int64_t>(1, static_cast<std::int64_t>(share + 1e-6)));
    }
    return result;
}

template <class>
bool prism_search::explore(const node& at, std::size_t depth, std::size_t aside) {
    if (nodes_left_ == 0 || !clock_.go_on(0)) return false;
    --nodes_left_;
    std::int64_t missing = 0;
    for (std::size_t j = 0; j < wanted_.size(); ++j) missing += unfilled_[j] * at.left[j];
    if (at.cost + missing < best_.cost) best_.cost = at.cost + missing, best_.patterns = at.fixed;
    if (missing == 0) return true;
    const bool diving = aside == nothing_aside;
    const relaxed relaxation = diving || depth == 0 || at.prices.empty() ? relax(at) : at_prices(at);
    const std::int64_t bound = attainable(at.cost + relaxation.bound);
    if (depth == 0) best_.bound = bound, best_.prices = relaxation.prices;
    if (bound >= best_.cost) return true;
    if (!diving && depth > 0 && bound > best_.bound)
        return false; // no way to the bound of the order: not looked at first
    const std::vector<prism_pattern> next = patterns_to_fix(at, relaxation, diving);
    for (std::size_t i = 0; i < next.size() && (diving ? i == 0 : i <= aside); ++i) {
        const prism_pattern& pattern = next[i];
        node below = at;
        fix(below, pattern, pattern.times);
        below.prices = quick_ ? relaxation.prices : std::vector<std::int64_t>{};
        explore(below, depth + 1, diving ? aside : aside - i);
        if (best_.bound >= best_.cost) return true; // of the whole order: nothing is better
    }
    return false; // other plans were not looked at
}

} // namespace tranche::detail
