// Where the knife goes: the request, what is best, the ways to plan, why not and what if, and re-planning while cutting.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/optimise/engine/best_path.hpp>
#include <tranche/optimise/engine/best_path_with_demand.hpp>
#include <tranche/optimise/explain/binding_limit.hpp>
#include <tranche/optimise/explain/request_limit.hpp>
#include <tranche/optimise/explain/what_if.hpp>
#include <tranche/optimise/plans/cut_regrets.hpp>
#include <tranche/optimise/plans/even_front.hpp>
#include <tranche/optimise/plans/even_out.hpp>
#include <tranche/optimise/plans/even_portions.hpp>
#include <tranche/optimise/plans/fewest_settings.hpp>
#include <tranche/optimise/plans/front.hpp>
#include <tranche/optimise/plans/plan.hpp>
#include <tranche/optimise/plans/planned.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/optimise/plans/polish.hpp>
#include <tranche/optimise/plans/polish_even.hpp>
#include <tranche/optimise/plans/robust_plans.hpp>
#include <tranche/optimise/plans/settings_want.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/request/cutting_request.hpp>
#include <tranche/optimise/request/demand.hpp>
#include <tranche/optimise/session/actual_slab.hpp>
#include <tranche/optimise/session/cutting_account.hpp>
#include <tranche/optimise/session/cutting_estimate.hpp>
#include <tranche/optimise/session/cutting_session.hpp>
#include <tranche/optimise/want/giveaway.hpp>
#include <tranche/optimise/want/knife_spread.hpp>
#include <tranche/optimise/want/lexicographic.hpp>
#include <tranche/optimise/want/objective.hpp>
#include <tranche/optimise/want/portion_objectives.hpp>
#include <tranche/optimise/want/score.hpp>
#include <tranche/optimise/want/value_objective.hpp>
#include <tranche/optimise/want/want.hpp>
