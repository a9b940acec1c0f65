// Quantities, money and their checks: what everything else is measured in.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/units/amount.hpp>
#include <tranche/units/chosen_currency.hpp>
#include <tranche/units/currency.hpp>
#include <tranche/units/invalid_input.hpp>
#include <tranche/units/iso_currency.hpp>
#include <tranche/units/literals.hpp>
#include <tranche/units/micrograms.hpp>
#include <tranche/units/money_figure.hpp>
#include <tranche/units/quantity.hpp>
#include <tranche/units/require.hpp>
#include <tranche/units/sentence.hpp>
#include <tranche/units/temperature.hpp>
