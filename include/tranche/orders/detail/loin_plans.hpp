// Every number of portions that a loin can give without losing more than so much at some prices.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <optional>
#include <span>
#include <unordered_map>
#include <utility>
#include <vector>

#include <tranche/optimise/engine/search_limits.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/orders/order_plan.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// Numbers of portions of up to 20 lines, 16 bits each.
struct line_counts {
    static constexpr std::size_t most_lines = 20;
    std::array<std::uint64_t, most_lines / 4> words{};

    [[nodiscard]] std::int64_t of(std::size_t line) const {
        return static_cast<std::int64_t>((words[line / 4] >> (16U * (line % 4))) & 0xFFFFU);
    }
    void add(std::size_t line, std::int64_t portions) {
        words[line / 4] += static_cast<std::uint64_t>(portions) << (16U * (line % 4));
    }
    /// No line may come to 65,536.
    void add(const line_counts& other) {
        for (std::size_t w = 0; w < words.size(); ++w) words[w] += other.words[w];
    }
    friend bool operator==(const line_counts&, const line_counts&) = default;
};
struct line_counts_hash {
    [[nodiscard]] std::size_t operator()(const line_counts& counts) const {
        std::uint64_t mixed = 0;
        for (const std::uint64_t word : counts.words) {
            mixed = (mixed ^ word) * 0x9E37'79B9'7F4A'7C15U;
            mixed ^= mixed >> 29U;
        }
        return static_cast<std::size_t>(mixed);
    }
};

/// What can be cut from a loin, slab by slab, with what each slab is worth but for what is paid by the piece.
struct loin_slabs {
    struct slab_way {
        std::uint32_t from = 0;
        std::uint16_t option = 0;
    };
    static constexpr std::int64_t nowhere = -500'000'000'000'000'000; ///< what is worth less does not lie there at all
    std::size_t start = 0, end = 0, loose_count = 0, lines = 0;
    std::vector<std::int64_t> pieces;                          ///< by option
    std::vector<std::vector<std::int64_t>> openings, closings; ///< by option, then position
    std::vector<std::vector<slab_way>> ways;                   ///< by the position where they end
    std::int64_t constant = 0;                                 ///< less the worth of the loin unopened
    bool always = false;

    [[nodiscard]] std::int64_t worth(slab_way way, std::size_t to) const {
        return openings[way.option][way.from] + closings[way.option][to];
    }
    /// The line that a slab is of; `lines` for loose meat and remnants.
    [[nodiscard]] std::size_t line_of(std::size_t option) const {
        return option < loose_count ? lines : std::min(lines, option - loose_count);
    }

    /// O(positions² × loose cuts + positions × thicknesses × cuts).
    template <class Objective>
    loin_slabs(const cutting_problem& problem, const Objective& objective, std::size_t order_lines)
        : start(problem.start()), end(problem.cells()), loose_count(problem.loose_count()), lines(order_lines),
          ways(problem.cells() + 1) {
        for (std::size_t o = 0; o < problem.option_count(); ++o) {
            pieces.push_back(problem.pieces(o));
            std::vector<std::int64_t>&opening = openings.emplace_back(), &closing = closings.emplace_back();
            for (std::size_t p = 0; p <= end; ++p) {
                opening.push_back(objective.opening(o, p));
                closing.push_back(objective.closing(o, p));
            }
            for (std::size_t to = start + 1; to <= end; ++to)
                for (std::size_t from = start; from < to; ++from)
                    if (problem.allows(o, from, to) && opening[from] + closing[to] > nowhere)
                        ways[to].push_back({static_cast<std::uint32_t>(from), static_cast<std::uint16_t>(o)});
        }
    }
};

/// A way to cut a loin, as far as an order sees it.
struct priced_plan {
    line_counts counts{};
    std::int64_t worth = 0; ///< as in `order_offers`
    std::int64_t loss = 0;  ///< at the prices
};

/// The plans of a loin that lose at most so much against its best one at these prices, of each number of portions the one of most
/// worth, and of these those that lose least first. A price behind those of the lines is paid for a loin that is opened, which is
/// counted as a further line. Nothing if there were more than `most_labels` on the way, or `stop` said so.
template <class = when_called>
[[nodiscard]] std::optional<std::vector<priced_plan>> plans_within(const loin_slabs& loin,
                                                                   std::span<const std::int64_t> prices,
                                                                   std::int64_t most_loss, std::size_t& most_labels,
                                                                   const stop_signal& stop = {}) {
    constexpr std::int64_t no_way = std::numeric_limits<std::int64_t>::min() / 4;
    const auto price = [&](std::size_t option) {
        const std::size_t line = loin.line_of(option);
        return line < prices.size() ? loin.pieces[option] * prices[line] : 0;
    };
    std::vector<std::int64_t> rest(loin.end + 1, no_way); // the best behind each position
    rest[loin.end] = 0;
    for (std::size_t to = loin.end; to > loin.start; --to) {
        if (rest[to] == no_way) continue;
        for (const auto& way : loin.ways[to])
            rest[way.from] = std::max(rest[way.from], rest[to] + loin.worth(way, to) + price(way.option));
    }
    if (loin.start < loin.end && rest[loin.start] == no_way) return std::nullopt;
    const bool counted = prices.size() > loin.lines;
    const std::int64_t constant = loin.constant + (counted ? prices[loin.lines] : 0);
    const std::int64_t best = rest[loin.start] + constant;
    const std::int64_t top = loin.always ? best : std::max<std::int64_t>(0, best);

    struct label {
        std::int64_t worth = 0, priced = 0;
    };
    using labels = std::unordered_map<line_counts, label, line_counts_hash>;
    std::vector<labels> at(loin.end + 1);
    line_counts none;
    if (counted) none.add(loin.lines, 1);
    at[loin.start][none] = {};
    struct onward {
        std::int64_t priced = 0, worth = 0; ///< with the best behind it; of the slab alone
        std::uint32_t to = 0;
        std::uint16_t option = 0;
    };
    std::vector<std::vector<onward>> from(loin.end + 1);
    for (std::size_t to = loin.start + 1; to <= loin.end; ++to)
        for (const auto& way : loin.ways[to])
            if (rest[to] != no_way) {
                const std::int64_t worth = loin.worth(way, to);
                from[way.from].push_back(
                    {worth + price(way.option) + rest[to], worth, static_cast<std::uint32_t>(to), way.option});
            }
    for (std::vector<onward>& ways : from) // the best first: behind one that loses too much all do
        std::sort(ways.begin(), ways.end(), [](const onward& a, const onward& b) {
            return std::pair{-a.priced, std::pair{a.to, a.option}} < std::pair{-b.priced, std::pair{b.to, b.option}};
        });
    std::size_t asked_at = most_labels;
    for (std::size_t p = loin.start; p < loin.end; ++p) {
        for (const auto& [counts, reached] : at[p]) {
            if (asked_at - most_labels > 4096) { // less than a millisecond or two
                if (stop()) return std::nullopt;
                asked_at = most_labels;
            }
            for (const onward& way : from[p]) {
                if (top - (reached.priced + way.priced + constant) > most_loss) break;
                if (most_labels == 0) return std::nullopt;
                --most_labels;
                const std::int64_t worth = reached.worth + way.worth;
                const std::int64_t priced = reached.priced + way.priced - rest[way.to];
                line_counts more = counts;
                const std::size_t line = loin.line_of(way.option);
                if (line < loin.lines) more.add(line, loin.pieces[way.option]);
                const auto [there, fresh] = at[way.to].try_emplace(more, label{worth, priced});
                if (!fresh && there->second.worth < worth) there->second = {worth, priced};
            }
        }
        if (p != loin.end) at[p] = {};
    }
    std::vector<priced_plan> plans;
    if (!loin.always && top <= most_loss) plans.push_back({{}, 0, top});
    for (const auto& [counts, reached] : at[loin.end]) {
        const std::int64_t loss = top - (reached.priced + constant);
        if (loss <= most_loss) plans.push_back({counts, reached.worth + loin.constant, loss});
    }
    std::sort(plans.begin(), plans.end(), [](const priced_plan& a, const priced_plan& b) {
        return std::pair{a.loss, a.counts.words} < std::pair{b.loss, b.counts.words};
    });
    return plans;
}

/// The slabs of the plan of most worth with just these portions. O(positions × ways × numbers of portions on the way).
template <class = when_called>
[[nodiscard]] std::vector<compact_cut> cuts_of(const loin_slabs& loin, const line_counts& wanted) {
    struct step {
        std::int64_t worth = 0;
        std::uint32_t from = 0;
        std::uint16_t option = 0;
    };
    std::vector<std::unordered_map<line_counts, step, line_counts_hash>> at(loin.end + 1);
    at[loin.start][{}] = {};
    for (std::size_t to = loin.start + 1; to <= loin.end; ++to)
        for (const auto& way : loin.ways[to])
            for (const auto& [counts, reached] : at[way.from]) {
                line_counts more = counts;
                const std::size_t line = loin.line_of(way.option);
                if (line < loin.lines) {
                    more.add(line, loin.pieces[way.option]);
                    if (more.of(line) > wanted.of(line)) continue;
                }
                const std::int64_t worth = reached.worth + loin.worth(way, to);
                const auto [there, fresh] = at[to].try_emplace(more, step{worth, way.from, way.option});
                if (fresh) continue;
                const step& known = there->second;
                if (std::pair{-worth, std::pair{way.option, way.from}} <
                    std::pair{-known.worth, std::pair{known.option, known.from}})
                    there->second = {worth, way.from, way.option};
            }
    std::vector<compact_cut> cuts;
    line_counts left = wanted;
    for (std::size_t to = loin.end; to > loin.start;) {
        const auto found = at[to].find(left);
        if (found == at[to].end()) return {};
        const step& last = found->second;
        const bool loose = last.option < loin.loose_count;
        cuts.push_back({static_cast<std::uint32_t>(to),
                        static_cast<std::uint16_t>(loose ? last.option : last.option - loin.loose_count),
                        loose ? slab_kind::loose : slab_kind::portions});
        if (const std::size_t line = loin.line_of(last.option); line < loin.lines) {
            line_counts piece;
            piece.add(line, loin.pieces[last.option]);
            for (std::size_t w = 0; w < left.words.size(); ++w) left.words[w] -= piece.words[w];
        }
        to = last.from;
    }
    std::reverse(cuts.begin(), cuts.end());
    return cuts;
}

} // namespace tranche::detail
