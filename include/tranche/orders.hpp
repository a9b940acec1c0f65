// Many loins for one order: which to open, how to cut each, what is short, with a bound and the gap.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/orders/advice/loin_help.hpp>
#include <tranche/orders/advice/loins_that_help.hpp>
#include <tranche/orders/advice/order_as_cut.hpp>
#include <tranche/orders/advice/rank_suppliers.hpp>
#include <tranche/orders/advice/supplied_order.hpp>
#include <tranche/orders/loin_source.hpp>
#include <tranche/orders/order.hpp>
#include <tranche/orders/order_account.hpp>
#include <tranche/orders/order_batch.hpp>
#include <tranche/orders/order_limits.hpp>
#include <tranche/orders/order_line.hpp>
#include <tranche/orders/order_loin.hpp>
#include <tranche/orders/order_offers.hpp>
#include <tranche/orders/order_plan.hpp>
#include <tranche/orders/order_session.hpp>
#include <tranche/orders/order_session_csv.hpp>
#include <tranche/orders/plan_order.hpp>
