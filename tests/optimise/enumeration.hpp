// Every way to cut a small loin, one after the other, by code that shares nothing with the engine: what a slab weighs and
// whether it is allowed is worked out from the request itself.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>
#include <utility>
#include <vector>

#include <tranche/cut/verify.hpp>
#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/loin/models/tapered_loin.hpp>
#include <tranche/optimise/plans/plans.hpp>

#include "cut/tail_by_definition.hpp"
#include "loin/layer_share.hpp"
#include "optimise/instances.hpp"

namespace tranche_test {

using namespace tranche;

/// What one slab keeps and sheds, in micrograms by tissue.
struct slab_masses {
    by_tissue<std::int64_t> kept, trimmed;
    [[nodiscard]] std::int64_t weight() const { return kept.sum(); }
};

class small_request {
public:
    explicit small_request(const request& r) : r_(r), cells_(r.meat.cells()) {
        while (at(start_) < r.rules.facing.value() - 1e-9) ++start_;
        const std::size_t options = r.rules.loose.size() + r.specs.size();
        for (std::size_t o = 0; o < options; ++o) {
            up_to_.emplace_back();
            for (std::size_t cell = 0; cell < cells_; ++cell) up_to_.push_back(with_cell(up_to_.back(), o, cell));
        }
        masses_.resize(options * (cells_ + 1) * (cells_ + 1));
        allowed_.resize(masses_.size());
        for (std::size_t o = 0; o < options; ++o)
            for (std::size_t from = start_; from < cells_; ++from)
                for (std::size_t to = from + 1; to <= cells_; ++to) {
                    const std::size_t i = index(o, from, to);
                    masses_[i] = weigh(o, from, to);
                    allowed_[i] = judge(o, from, to, masses_[i].weight());
                }
    }

    [[nodiscard]] std::size_t start() const { return start_; }
    [[nodiscard]] std::size_t cells() const { return cells_; }
    [[nodiscard]] std::size_t options() const { return r_.rules.loose.size() + r_.specs.size(); }
    [[nodiscard]] bool is_portion(std::size_t o) const { return o >= r_.rules.loose.size(); }
    [[nodiscard]] const cut_spec& spec(std::size_t o) const { return r_.specs[o - r_.rules.loose.size()]; }
    [[nodiscard]] const slab_masses& masses(std::size_t o, std::size_t from, std::size_t to) const {
        return masses_[index(o, from, to)];
    }
    [[nodiscard]] bool allowed(std::size_t o, std::size_t from, std::size_t to) const {
        return allowed_[index(o, from, to)] != 0;
    }
    /// How many tilings there are.
    [[nodiscard]] double tilings() const {
        std::vector<double> ways(cells_ + 1);
        ways[start_] = 1.0;
        for (std::size_t to = start_ + 1; to <= cells_; ++to)
            for (std::size_t from = start_; from < to; ++from)
                for (std::size_t o = 0; o < options(); ++o)
                    if (allowed(o, from, to)) ways[to] += ways[from];
        return ways[cells_];
    }

    /// The largest sum of `score(option, from, to)` over all tilings, added up from the rib to the sirloin.
    template <class Score, class F>
    [[nodiscard]] Score best(F score) const {
        std::vector<Score> table(masses_.size());
        for (std::size_t o = 0; o < options(); ++o)
            for (std::size_t from = start_; from < cells_; ++from)
                for (std::size_t to = from + 1; to <= cells_; ++to)
                    if (allowed(o, from, to)) table[index(o, from, to)] = score(o, from, to);
        Score best{};
        bool any = false;
        const std::function<void(std::size_t, const Score&)> lay = [&](std::size_t from, const Score& sum) {
            if (from == cells_) {
                if (!any || best < sum) best = sum;
                any = true;
                return;
            }
            for (std::size_t to = from + 1; to <= cells_; ++to)
                for (std::size_t o = 0; o < options(); ++o)
                    if (allowed(o, from, to)) lay(to, sum + table[index(o, from, to)]);
        };
        lay(start_, Score{});
        return best;
    }

    struct laid {
        std::size_t option, from, to;
    };
    /// Calls f(slabs) for every tiling, whether its slabs go together or not.
    template <class F>
    void each_tiling(F f) const {
        std::vector<laid> slabs;
        const std::function<void(std::size_t)> lay = [&](std::size_t from) {
            if (from == cells_) return f(std::as_const(slabs));
            for (std::size_t to = from + 1; to <= cells_; ++to)
                for (std::size_t o = 0; o < options(); ++o) {
                    if (!allowed(o, from, to)) continue;
                    slabs.push_back({o, from, to});
                    lay(to);
                    slabs.pop_back();
                }
        };
        lay(start_);
    }
    /// Whether the slabs of a tiling keep the order of cuts, and one thickness where there must be one: at the sirloin face
    /// it may be half a step off.
    [[nodiscard]] bool go_together(const std::vector<laid>& slabs) const {
        const double h = r_.meat.step().value();
        for (std::size_t b = 0; b < slabs.size(); ++b) {
            if (!is_portion(slabs[b].option)) continue;
            const cut_spec& behind = spec(slabs[b].option);
            for (std::size_t a = 0; a < b; ++a) {
                if (!is_portion(slabs[a].option)) continue;
                for (const cut_order& order : r_.rules.order)
                    if (spec(slabs[a].option).name == order.then && behind.name == order.first) return false;
                if (slabs[a].option != slabs[b].option || !behind.one_thickness) continue;
                const double thin = at(slabs[a].to) - at(slabs[a].from) - behind.kerf.value();
                const bool last = slabs[b].to == cells_;
                const double thick = at(slabs[b].to) - at(slabs[b].from) - (last ? 0.0 : behind.kerf.value());
                if (std::abs(thin - thick) > (last ? 0.5 * h : 0.0) + 1e-9 * h) return false;
            }
        }
        return true;
    }

private:
    [[nodiscard]] std::size_t index(std::size_t o, std::size_t from, std::size_t to) const {
        return (o * (cells_ + 1) + from) * (cells_ + 1) + to;
    }
    [[nodiscard]] double at(std::size_t i) const {
        return std::min(static_cast<double>(i) * r_.meat.step().value(), r_.meat.extent().value());
    }

    [[nodiscard]] std::size_t place(std::size_t o, std::size_t at) const { return o * (cells_ + 1) + at; }

    /// With what the trim of an option leaves of one more cell, and takes.
    [[nodiscard]] slab_masses with_cell(slab_masses m, std::size_t o, std::size_t cell) const {
        const trim_spec& trim = is_portion(o) ? spec(o).trim : r_.rules.loose[o].trim;
        for (const tissue t : all_tissues) {
            const std::int64_t all = r_.meat.between(cell, cell + 1, t).count;
            double stays = 1.0;
            if (t == tissue::fat_cover) stays = share_by_definition(r_.meat.fat_cover(cell), trim.fat_cover);
            if (t == tissue::tail)
                stays = share_by_definition(r_.meat.tail(cell), tail_by_definition(r_.meat, cell, trim.tail));
            if (t == tissue::connective) stays = trim.silverskin ? 1.0 : 0.0;
            const auto kept = static_cast<std::int64_t>(std::floor(static_cast<double>(all) * stays + 0.5));
            m.kept[t] += kept;
            m.trimmed[t] += all - kept;
        }
        return m;
    }
    [[nodiscard]] slab_masses weigh(std::size_t o, std::size_t from, std::size_t to) const {
        const double kerf = is_portion(o) && to < cells_ ? spec(o).kerf.value() : 0.0, back = at(to) - kerf;
        slab_masses m;
        std::size_t cell = to;
        while (cell > from && at(cell) > back) --cell; // all in front of this is on the slab, or nothing is
        for (const tissue t : all_tissues) {
            m.kept[t] = up_to_[place(o, cell)].kept[t] - up_to_[place(o, from)].kept[t];
            m.trimmed[t] = up_to_[place(o, cell)].trimmed[t] - up_to_[place(o, from)].trimmed[t];
        }
        for (; cell < to && at(cell) < back; ++cell) {
            // Inside a cell the library tells places apart to 2^-20 of it, so that binary noise in a length is none.
            const double share =
                std::clamp(std::round((back - at(cell)) / (at(cell + 1) - at(cell)) * 0x1p20) * 0x1p-20, 0.0, 1.0);
            const auto in_front = [&](std::int64_t mass) {
                return static_cast<std::int64_t>(std::floor(static_cast<double>(mass) * share));
            };
            for (const tissue t : all_tissues) {
                const std::int64_t kept = up_to_[place(o, cell + 1)].kept[t] - up_to_[place(o, cell)].kept[t];
                const std::int64_t all = r_.meat.between(cell, cell + 1, t).count;
                m.kept[t] += in_front(kept);
                m.trimmed[t] += in_front(all) - in_front(kept);
            }
        }
        return m;
    }

    [[nodiscard]] bool is_pinned(std::size_t position) const {
        return std::any_of(r_.rules.cut_at.begin(), r_.rules.cut_at.end(),
                           [&](length place) { return r_.meat.nearest(place) == position; });
    }
    [[nodiscard]] bool judge(std::size_t o, std::size_t from, std::size_t to, std::int64_t weighs) const {
        for (std::size_t i = from + 1; i < to; ++i)
            if (is_pinned(i)) return false;
        const double band = is_portion(o) ? spec(o).kerf.value() : 0.0;
        for (const quantity_range<length>& stretch : r_.rules.kept_whole)
            if (to < cells_ && !is_pinned(to) && at(to) > stretch.min.value() + 1e-9 &&
                at(to) - band < stretch.max.value() - 1e-9)
                return false;
        if (!is_portion(o)) {
            const loose_cut& loose = r_.rules.loose[o];
            const bool open = from == start_ || is_pinned(from), closed = to == cells_ || is_pinned(to);
            if (open && closed && o == 0) return true;
            if (loose.place == loose_place::nowhere) return false;
            if (loose.place == loose_place::ends && from != start_ && to < cells_) return false;
            if (at(from) < loose.zone.min.value() - 1e-9 || at(to) > loose.zone.max.value() + 1e-9) return false;
            if (open || (is_pinned(to) && to < cells_)) return true;
            if (to < cells_) return at(to) - at(from) >= r_.rules.loose[o].least_thickness.value() - 1e-9;
            const least_remnant& least = r_.rules.remnant;
            return at(to) - at(from) >= least.thickness.value() - 1e-9 &&
                   static_cast<double>(weighs) >= std::floor(least.weight.value() * 1e9 + 0.5);
        }
        const cut_spec& s = spec(o);
        const double h = r_.meat.step().value(), kerf = s.kerf.value();
        const double thin = s.thickness.min.value(), thick = s.thickness.max.value();
        const bool to_end = to == cells_;
        if (to_end && r_.rules.remnant.required) return false;
        const auto thickness_from = [&](double position) { // of a slab that ends at `to`
            return to_end ? r_.meat.extent().value() - position * h : (static_cast<double>(to) - position) * h - kerf;
        };
        const auto inside = [&](double t) { return thin - 1e-9 * h <= t && t <= thick + 1e-9 * h; };
        const double mine = thickness_from(static_cast<double>(from));
        if (at(from) < s.zone.min.value() - 1e-9 * h || at(from) + mine > s.zone.max.value() + 1e-9 * h) return false;
        if (s.thickness_step > length{}) { // the nearest to a notch
            const double notch = std::round((mine - thin) / s.thickness_step.value()) * s.thickness_step.value() + thin;
            if (!(mine > 0.0) || !inside(notch) || std::abs(mine - notch) > 0.5 * h) return false;
        } else if (!inside(thickness_from(static_cast<double>(from)))) {
            // A window narrower than the grid that no position meets is met by the nearest one.
            if (thick - thin >= h) return false;
            for (double position = static_cast<double>(to); position > -static_cast<double>(cells_) - 5.0; --position)
                if (inside(thickness_from(position))) return false;
            const double middle = 0.5 * (thin + thick);
            if (!(mine > 0.0) || std::abs(mine - middle) > 0.5 * h) return false;
        }
        double before = 0.0, through = 0.0; // gluteus medius: once it has entered it counts as present
        for (std::size_t i = 0; i <= to; ++i) {
            through = std::max(through, r_.meat.gluteus_medius_share(i));
            if (i <= from) before = through;
        }
        if (before > s.gluteus_medius.towards_rib || through > s.gluteus_medius.towards_sirloin) return false;
        const auto limit = [&](mass m) {
            return std::isinf(m.value()) ? 9e18 : std::floor(m.value() * 1e9 + 0.5) * s.pieces;
        };
        const auto weight = static_cast<double>(weighs);
        return limit(s.portion.min) <= weight && weight <= limit(s.portion.max);
    }

    const request& r_;
    std::size_t cells_, start_ = 0;
    std::vector<slab_masses> up_to_; ///< by option: all in front of each position
    std::vector<slab_masses> masses_;
    std::vector<char> allowed_;
};

/// A request of few enough tilings to look at each, and more than `least` of them.
/// `more` adds to it first.
template <class More>
[[nodiscard]] request few_tilings(dice& d, double least, const More& more) {
    for (;;) {
        request r = random_request(d, 3, 16);
        more(r);
        if (!(r.rules.facing < r.meat.extent())) continue;
        const double tilings = small_request(r).tilings();
        if (tilings > least && tilings < 4e3) return r;
    }
}
[[nodiscard]] inline request few_tilings(dice& d, double least = 10.0) {
    return few_tilings(d, least, [](request&) {});
}

/// The fewest portions that any tiling which keeps all caps lacks of what is asked for, and the best score of such tilings.
template <objective O>
[[nodiscard]] std::optional<std::pair<std::int64_t, typename O::score_type>> nearest_to(
    const small_request& all, const request& r, const O& objective, const std::vector<demand>& demands) {
    std::optional<std::pair<std::int64_t, typename O::score_type>> best; // minus what is missing, and the score
    all.each_tiling([&](const std::vector<small_request::laid>& slabs) {
        if (!all.go_together(slabs)) return;
        std::vector<std::int64_t> portions(r.specs.size());
        std::pair<std::int64_t, typename O::score_type> here{};
        for (const auto& s : slabs) {
            if (all.is_portion(s.option)) portions[s.option - r.rules.loose.size()] += all.spec(s.option).pieces;
            here.second = here.second + slab_score(objective, s.option, s.from, s.to);
        }
        for (const demand& wanted : demands) {
            const std::int64_t n = portions[spec_of(wanted, r.specs)];
            if (n > wanted.at_most) return;
            here.first -= std::max<std::int64_t>(wanted.at_least - n, 0);
        }
        if (!best || *best < here) best = here;
    });
    return best;
}

/// In front of the others a cut of one thickness that no demand is for.
inline void add_idle_cut(dice& d, request& r) {
    r.specs.insert(r.specs.begin(), random_spec(d, r.meat, "idle", 0.6, 5.0));
    r.specs.front().one_thickness = true;
    snap(r);
}
/// Often more than there is, of all cuts from one on.
[[nodiscard]] inline std::vector<demand> hard_demands(dice& d, const request& r, std::size_t first) {
    std::vector<demand> demands;
    for (std::size_t i = first; i < r.specs.size(); ++i) {
        const auto low = static_cast<std::int64_t>(d.whole(0, 6));
        demands.push_back({.spec = i, .at_least = low, .at_most = low + static_cast<std::int64_t>(d.whole(0, 1))});
    }
    return demands;
}

/// The best sum over all tilings whose slabs go together and that meet the demands, if there is one.
template <objective O>
std::optional<typename O::score_type> best_linked(const small_request& all, const request& r, const O& objective,
                                                  const std::vector<demand>& demands = {}) {
    std::optional<typename O::score_type> best;
    all.each_tiling([&](const std::vector<small_request::laid>& slabs) {
        if (!all.go_together(slabs)) return;
        std::vector<std::int64_t> portions(r.specs.size());
        typename O::score_type sum{};
        for (const auto& s : slabs) {
            if (all.is_portion(s.option)) portions[s.option - r.rules.loose.size()] += all.spec(s.option).pieces;
            sum = sum + slab_score(objective, s.option, s.from, s.to);
        }
        for (const demand& wanted : demands) {
            const std::int64_t n = portions[spec_of(wanted, r.specs)];
            if (n < wanted.at_least || n > wanted.at_most) return;
        }
        if (!best || *best < sum) best = sum;
    });
    return best;
}

/// A user's objective over whole slabs, in whole numbers, that likes cuts of different thickness.
struct odd_thickness {
    using score_type = std::int64_t;
    const cutting_problem* problem;

    [[nodiscard]] score_type slab(std::size_t o, std::size_t from, std::size_t to) const {
        const auto cells = static_cast<std::int64_t>(to - from), place = static_cast<std::int64_t>(from);
        return problem->is_portion(o) ? 10 * cells + 7 * ((place * place + 3 * cells) % 5) : -cells;
    }
};

} // namespace tranche_test
