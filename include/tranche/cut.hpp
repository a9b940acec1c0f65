// What may be cut, the plan of it, and its independent check.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/cut/cut_spec.hpp>
#include <tranche/cut/cutting_plan.hpp>
#include <tranche/cut/lay_out.hpp>
#include <tranche/cut/plan_worth.hpp>
#include <tranche/cut/price_list.hpp>
#include <tranche/cut/steak_face.hpp>
#include <tranche/cut/tail_limit.hpp>
#include <tranche/cut/trim.hpp>
#include <tranche/cut/verify.hpp>
#include <tranche/cut/yield_table.hpp>
