// Room in which one loin after the other is planned and cut, each in its way; and how each way says where the knife goes.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <optional>
#include <type_traits>
#include <utility>
#include <vector>

#include <tranche/cut/yield_table.hpp>
#include <tranche/loin/varied_profiles.hpp>
#include <tranche/optimise/engine/best_path.hpp>
#include <tranche/optimise/plans/even_out.hpp>
#include <tranche/optimise/plans/plan.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/session/cutting_session.hpp>
#include <tranche/study/loins/carried_out.hpp>
#include <tranche/study/loins/detail/drawn_loin.hpp>
#include <tranche/study/loins/detail/loin_account.hpp>
#include <tranche/study/loins/loin_terms.hpp>
#include <tranche/study/loins/ways_to_cut.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche::detail {

/// What every way has room for.
struct loins_room {
    varied_profiles loins;
    trim_tables tables{};
    cutting_plan cut{};
    std::vector<intended_cut> cuts{};
    std::vector<double> uniforms{}, values{};
};

/// What a way needs beside that.
template <class Way>
struct way_room {};

/// A way carried out: into `room.cut`, the loin being `room.loins.last()`; or why not.
template <class Way>
struct way_carried_out;

template <>
struct way_carried_out<cut_by_one_plan> {
    template <class Error>
    static std::optional<bad_draw> run(const cut_by_one_plan& way, const loin_task& task, const drawn_loin& drawn,
                                       const Error& error, loins_room& room, way_room<cut_by_one_plan>&) {
        const profile& meat = room.loins.last();
        room.tables.set(meat, room.cut, length::from_value(drawn.fat_left), [](const trim_spec&) { return nullptr; });
        if (!carry_out(meat, way.cuts, task.hand.follows, error, room.tables,
                       task.request.rules.loose.front().least_thickness, room.cut))
            return bad_draw::knife_slipped;
        return std::nullopt;
    }
};

template <objective_want W>
struct way_room<plan_for_each<W>> {
    path_workspace<std::remove_cvref_t<decltype(std::declval<const W&>()(std::declval<const cutting_problem&>()))>>
        search{};
    std::vector<grid_slab> stretches{};
};

template <class W>
struct way_carried_out<plan_for_each<W>> {
    template <class Error>
    static std::optional<bad_draw> run(const plan_for_each<W>& way, const loin_task& task, const drawn_loin& drawn,
                                       const Error& error, loins_room& room, way_room<plan_for_each<W>>& own) {
        const profile& meat = room.loins.last();
        const length more = length::from_value(drawn.fat_left),
                     sliver = task.request.rules.loose.front().least_thickness;
        const auto go = [&](const auto& known) -> std::optional<bad_draw> {
            room.tables.set(meat, room.cut, more, known);
            if (!carry_out(meat, room.cuts, task.hand.follows, error, room.tables, sliver, room.cut))
                return bad_draw::knife_slipped;
            return std::nullopt;
        };
        const auto none = [](const trim_spec&) -> const yield_table* { return nullptr; };
        if constexpr (objective_want<W>) {
            if (task.request.demands.empty()) {
                std::optional<cutting_problem> problem;
                try {
                    problem.emplace(meat, task.request.cuts, task.request.rules);
                } catch (const invalid_input&) {
                    return bad_draw::rules;
                }
                const auto objective = way.by(*problem);
                own.stretches = own.search.best_path(*problem, objective).stretches;
                even_out(*problem, objective, own.stretches);
                intend(*problem, own.stretches, room.cuts);
                if (more == length{}) return go([&](const trim_spec& trim) { return problem->tables().of(trim); });
                return go(none);
            }
        }
        try {
            room.cuts = intended_cuts_of(plan(meat, task.request, way.by).plan);
        } catch (const invalid_input&) {
            return bad_draw::rules;
        }
        return go(none);
    }

private:
    static void intend(const cutting_problem& problem, const std::vector<grid_slab>& stretches,
                       std::vector<intended_cut>& cuts) {
        const profile& meat = problem.meat();
        cuts.clear();
        if (problem.start() > 0) {
            const length facing = meat.position(problem.start());
            cuts.push_back({slab_kind::facing, 0, facing, facing});
        }
        for (const grid_slab& s : stretches) {
            const bool portions = s.kind == slab_kind::portions, last = s.to == meat.cells();
            const length kerf = portions && !last ? problem.specs()[s.option].kerf : length{};
            const length end = meat.position(s.to) - kerf;
            cuts.push_back({s.kind, s.option, end - meat.position(s.from), end});
        }
    }
};

template <class W>
struct way_room<plan_again_while_cutting<W>> {
    std::optional<varied_profiles> believed{};
};

template <class W>
struct way_carried_out<plan_again_while_cutting<W>> {
    template <class Error>
    static std::optional<bad_draw> run(const plan_again_while_cutting<W>& way, const loin_task& task,
                                       const drawn_loin& drawn, const Error& error, loins_room& room,
                                       way_room<plan_again_while_cutting<W>>& own) {
        const profile& meat = room.loins.last();
        if (!own.believed) own.believed.emplace(room.loins.base());
        // A typical loin of this length and weight: what it is wide, the scale says.
        loin_factors by{.length = drawn.by.length};
        const mass weight = to_mass(meat.total());
        by.width = weight / own.believed->mass_of(by);
        const profile& believed = own.believed->vary(by, weight);
        room.cuts.clear();
        std::optional<bad_draw> wrong = bad_draw::rules;
        try {
            cutting_session session(believed, task.request, way.by, way.spreads);
            wrong = bad_draw::session;
            const yield_table on_board(meat, task.request.rules.trim_whole);
            length at{};
            while (session.next() && at < meat.extent()) {
                const next_cut next = *session.next();
                length end = meat.extent();
                if (!next.last) end = at + next.set + error();
                if (!(end > at)) return bad_draw::knife_slipped;
                end = std::min(end, meat.extent());
                room.cuts.push_back({next.kind, next.option, end - at, end});
                const micrograms slab_weight = on_board.kept_between(at, end);
                if (end < meat.extent() && next.kind == slab_kind::portions) end += task.request.cuts[next.option].kerf;
                at = std::min(end, meat.extent());
                if (at < meat.extent() || !next.last) session.record({.weight = to_mass(slab_weight)});
                if (!(at < meat.extent())) break;
            }
        } catch (const invalid_input&) {
            return wrong;
        }
        room.tables.set(meat, room.cut, length::from_value(drawn.fat_left), [](const trim_spec&) { return nullptr; });
        const auto as_cut = [] { return length{}; };
        if (!carry_out(meat, room.cuts, hand_follows::thickness, as_cut, room.tables, length{}, room.cut))
            return bad_draw::knife_slipped;
        return std::nullopt;
    }
};

} // namespace tranche::detail
