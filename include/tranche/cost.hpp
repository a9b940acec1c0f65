// What it cost: cutting-yield tests, bills, joint cost, the plate, make or buy.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/cost/joint/joint_cost.hpp>
#include <tranche/cost/joint/joint_products.hpp>
#include <tranche/cost/menu/loins_to_buy.hpp>
#include <tranche/cost/menu/plate_cost.hpp>
#include <tranche/cost/menu/portion_counts.hpp>
#include <tranche/cost/savings/break_even.hpp>
#include <tranche/cost/savings/cost_breakdown.hpp>
#include <tranche/cost/savings/cost_per_edible.hpp>
#include <tranche/cost/savings/cutting_costs.hpp>
#include <tranche/cost/savings/edible_basis.hpp>
#include <tranche/cost/savings/make_or_buy.hpp>
#include <tranche/cost/savings/offers.hpp>
#include <tranche/cost/savings/ready_cut.hpp>
#include <tranche/cost/savings/savings_grid.hpp>
#include <tranche/cost/yield/cooking_loss.hpp>
#include <tranche/cost/yield/cost_variances.hpp>
#include <tranche/cost/yield/known_cooking_yields.hpp>
#include <tranche/cost/yield/purchase.hpp>
#include <tranche/cost/yield/settle.hpp>
#include <tranche/cost/yield/usable_cost.hpp>
#include <tranche/cost/yield/weighed_part.hpp>
#include <tranche/cost/yield/weighing_tolerance.hpp>
#include <tranche/cost/yield/yield_test.hpp>
