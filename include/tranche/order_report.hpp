// Reports of orders over many loins: text, tables, CSV, cards and a picture, which the main job's report does not need.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/report/orders/order_cards.hpp>
#include <tranche/report/orders/order_csv.hpp>
#include <tranche/report/orders/order_lines.hpp>
#include <tranche/report/orders/order_sections.hpp>
#include <tranche/report/pictures/order_picture.hpp>
#include <tranche/report/tables/order_advice_tables.hpp>
#include <tranche/report/tables/order_tables.hpp>
