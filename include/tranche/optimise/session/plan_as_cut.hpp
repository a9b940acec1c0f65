// What a session came to, as a plan: the slabs with the weights that the scale said, for bills, records and reports.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <numeric>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cut/cutting_plan.hpp>
#include <tranche/cut/yield_table.hpp>
#include <tranche/optimise/session/actual_slab.hpp>
#include <tranche/optimise/session/cutting_session.hpp>
#include <tranche/units/amount.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

namespace detail {

/// The slabs of a session one by one, each from the position where the one before it ended.
class slabs_as_cut {
public:
    slabs_as_cut(const profile& meat, const std::vector<cut_spec>& specs, const cutting_rules& rules)
        : meat_(meat), whole_(meat, rules.trim_whole) {
        result_.specs = specs;
        result_.rules = rules;
        result_.extent = meat.extent();
    }

    template <class = when_called>
    void add(const actual_slab& cut, const slab_use& use) {
        slab s{.kind = cut.kind, .option = cut.option, .start = cut.start, .thickness = cut.thickness};
        s.kerf = cut.kerf;
        mass portion = cut.portion; // of each, before it is trimmed down
        if (cut.kind == slab_kind::portions) switch (use.becomes) {
            case slab_use::way::as_it_is:
            case slab_use::way::trimmed_down: break;
            case slab_use::way::halved:
                s.option = halved(cut.option);
                portion = 0.5 * portion;
                break;
            case slab_use::way::other_cut:
                s.option = use.spec;
                portion = use.portion;
                break;
            case slab_use::way::loose:
                s = {slab_kind::loose, 0, cut.start, cut.thickness, cut.kerf};
                portion = mass{};
                break;
            }
        const double pieces = s.kind == slab_kind::portions ? result_.specs[s.option].pieces : 0;
        weigh(s, meat_.nearest(cut.end()), cut.weight, pieces * portion);
        if (use.becomes == slab_use::way::trimmed_down && s.kind == slab_kind::portions)
            trim_to(s, to_micrograms(pieces * result_.specs[s.option].portion.max).count);
        result_.slabs.push_back(s);
    }
    /// What is left on the board.
    void add_rest(length from, micrograms weight) {
        if (weight <= micrograms{}) return;
        slab s{.kind = slab_kind::end, .option = 0, .start = from, .thickness = meat_.extent() - from};
        weigh(s, meat_.cells(), weight, mass{});
        result_.slabs.push_back(s);
    }
    /// What the loin had and neither slabs nor rest have, as lost to the knife.
    [[nodiscard]] cutting_plan result(micrograms unaccounted) {
        if (!result_.slabs.empty() && unaccounted > micrograms{}) result_.slabs.back().cutting_loss += unaccounted;
        result_.total = balance_of(result_).total();
        return std::move(result_);
    }

private:
    [[nodiscard]] std::size_t halved(std::size_t option) {
        cut_spec half = result_.specs[option];
        half.name += ", halved";
        half.pieces *= 2;
        std::size_t i = option + 1;
        while (i < result_.specs.size() && result_.specs[i].name != half.name) ++i;
        if (i == result_.specs.size()) result_.specs.push_back(std::move(half));
        return i;
    }

    /// Shares the weight out by what the profile has between the position of the last cut and `to`, trimmed as the slab is; `kept`
    /// of it stays on, or if that is zero as much as the profile says. Of what came off the loin before it was cut, which no
    /// scale has seen, the profile's own word stands.
    template <class = when_called>
    void weigh(slab& s, std::size_t to, micrograms weight, mass kept) {
        const std::size_t from = std::min(at_, meat_.cells() - 1);
        to = std::clamp(to, from + 1, meat_.cells());
        const yield_table own(meat_, result_.trim_of(s));
        const profile_place back{to - 1, 1.0};
        std::vector<std::int64_t> stays, goes;
        for (const tissue t : all_tissues) {
            const std::int64_t board = whole_.kept_between(t, from, back);
            stays.push_back(own.kept_between(t, from, back));
            goes.push_back(board - stays.back());
            if (from == at_) s.trim[t] = {meat_.between(from, to, t).count - board};
        }
        const std::int64_t of_kept = std::accumulate(stays.begin(), stays.end(), std::int64_t{0});
        const std::int64_t of_trim = std::accumulate(goes.begin(), goes.end(), std::int64_t{0});
        if (of_kept + of_trim == 0) stays.front() = 1;
        std::int64_t left = weight.count;
        if (of_kept > 0 && kept > mass{})
            left = std::min(to_micrograms(kept).count, left);
        else if (of_trim > 0)
            left = split_by_largest_remainder(left, std::vector{of_kept, of_trim}).front();
        share_out(left, stays, s.kept);
        share_out(weight.count - left, of_trim > 0 ? goes : stays, s.trim);
        s.gluteus_medius_towards_rib = meat_.gluteus_medius_share(from);
        s.gluteus_medius_towards_sirloin = meat_.gluteus_medius_share(to);
        at_ = to;
    }
    static void share_out(std::int64_t weight, const std::vector<std::int64_t>& shares, by_tissue<micrograms>& among) {
        if (weight == 0) return;
        const auto parts = split_by_largest_remainder(weight, shares);
        for (const tissue t : all_tissues) among[t] += micrograms{parts[static_cast<std::size_t>(t)]};
    }
    /// Takes off what is above a weight, of each tissue as much as there is of it.
    static void trim_to(slab& s, std::int64_t limit) {
        const std::int64_t over = s.weight().count - limit;
        if (over <= 0) return;
        std::vector<std::int64_t> shares;
        for (const tissue t : all_tissues) shares.push_back(s.kept[t].count);
        by_tissue<micrograms> off{};
        share_out(over, shares, off);
        for (const tissue t : all_tissues) {
            s.kept[t] -= off[t];
            s.trim[t] += off[t];
        }
    }

    const profile& meat_;
    yield_table whole_;
    std::size_t at_ = 0; ///< the position of the last cut
    cutting_plan result_{};
};

} // namespace detail

/// The loin as it was cut: a plan for `settle`, records and reports, with each slab as heavy as the scale said. What of a slab
/// was kept and what came off, and of which tissue, is shared out as the profile has it where the slab was; that and what
/// became of the slabs (`uses`, one for each of `session.slabs()`; if none are given, what each slab's remedy says) nobody
/// weighed. What is left on the board is loose meat of the first way to use it: as it was weighed, or all that the slabs leave;
/// what is missing then counts as cutting loss. Nothing is left of a loin that is cut up.
///
/// Limits need not hold in such a plan (`verify` would say so), and its total is what was weighed. Throws
/// `invalid_input` for a rest below zero, for another number of uses than slabs, and for a use that names no spec.
/// O(cells × slabs). Masses are whole micrograms, `rest_weighed` in kilograms.
template <class Way>
[[nodiscard]] cutting_plan plan_as_cut(const cutting_session<Way>& session, std::optional<mass> rest_weighed = {},
                                       std::span<const slab_use> uses = {}) {
    const std::span<const actual_slab> slabs = session.slabs();
    if (!uses.empty() && uses.size() != slabs.size())
        throw invalid_input("uses", std::to_string(uses.size()),
                            "one for each of " + std::to_string(slabs.size()) + " slabs");
    detail::slabs_as_cut cut(session.meat(), session.specs(), session.rules());
    for (std::size_t i = 0; i < slabs.size(); ++i) {
        slab_use use;
        if (!uses.empty())
            use = uses[i];
        else if (const auto could = session.uses_of(slabs[i]); !could.empty())
            use = could.front();
        if (use.becomes == slab_use::way::other_cut && use.spec >= session.specs().size())
            throw invalid_input("uses[" + std::to_string(i) + "].spec", std::to_string(use.spec),
                                "the index of a spec");
        cut.add(slabs[i], use);
    }
    const cutting_account account = session.account(rest_weighed);
    const bool cut_up = !rest_weighed && session.why_stopped() == session_stop::cut_up;
    if (!cut_up) cut.add_rest(session.position(), account.rest);
    return cut.result(cut_up ? account.rest : account.unaccounted);
}

} // namespace tranche
