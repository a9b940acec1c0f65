// Many loins for one order: which to open, how to cut each, what is short, with a bound and the gap.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/orders/loin_source.hpp>
#include <tranche/orders/order.hpp>
#include <tranche/orders/order_batch.hpp>
#include <tranche/orders/order_limits.hpp>
#include <tranche/orders/order_line.hpp>
#include <tranche/orders/order_loin.hpp>
#include <tranche/orders/order_offers.hpp>
#include <tranche/orders/order_plan.hpp>
#include <tranche/orders/plan_order.hpp>
