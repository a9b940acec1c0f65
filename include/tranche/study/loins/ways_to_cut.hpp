// How the loins of a study are cut: all by one plan, each by a plan of its own, or with the rest planned again after each slab.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <utility>
#include <vector>

#include <tranche/cut/cutting_plan.hpp>
#include <tranche/optimise/session/cutting_estimate.hpp>
#include <tranche/optimise/session/cutting_session.hpp>
#include <tranche/optimise/want/want.hpp>
#include <tranche/study/loins/carried_out.hpp>

namespace tranche {

/// All loins are cut by one plan: the same thicknesses, or marks, from the rib face, whatever the loin is like. Nobody looks at it.
struct cut_by_one_plan {
    std::vector<intended_cut> cuts{};

    cut_by_one_plan() = default;
    /// The plan's own weights do not matter, only where its knife goes.
    explicit cut_by_one_plan(const cutting_plan& plan) : cuts(intended_cuts_of(plan)) {}
};

/// Each loin is measured, without an error, and planned by a want before it is cut: the most that measuring can give.
template <want W>
struct plan_for_each {
    W by;

    explicit plan_for_each(W want) : by(std::move(want)) {}
};

/// Each loin is put on the scale and its length read; of the rest the cook only knows what a typical loin is like. Each slab is weighed
/// as it comes off, and the rest planned again (`cutting_session`, which learns the loin's mass per length and the hand's bias).
template <session_want W>
struct plan_again_while_cutting {
    W by;
    cutting_spreads spreads{}; ///< what the session expects

    explicit plan_again_while_cutting(W want, cutting_spreads expected = {}) : by(std::move(want)), spreads(expected) {}
};

} // namespace tranche
