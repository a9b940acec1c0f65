// Blends of grind at the least cost under a fat limit, and their tables.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/grind/blend.hpp>
#include <tranche/grind/fat_range.hpp>
#include <tranche/grind/fat_square.hpp>
#include <tranche/grind/grind_source.hpp>
#include <tranche/grind/least_cost_blend.hpp>
#include <tranche/grind/own_trim.hpp>
#include <tranche/grind/trim_in_blend.hpp>
#include <tranche/report/tables/grind_tables.hpp>
