// Everything in the library, in one include.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/cut/cut_spec.hpp>
#include <tranche/cut/lay_out.hpp>
#include <tranche/cut/plan.hpp>
#include <tranche/cut/price_list.hpp>
#include <tranche/cut/trim.hpp>
#include <tranche/cut/verify.hpp>
#include <tranche/cut/yield_table.hpp>
#include <tranche/loin/calibrated.hpp>
#include <tranche/loin/face.hpp>
#include <tranche/loin/loin_model.hpp>
#include <tranche/loin/measured_loin.hpp>
#include <tranche/loin/monotone.hpp>
#include <tranche/loin/prism_loin.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/loin/taped_face.hpp>
#include <tranche/loin/tapered_loin.hpp>
#include <tranche/loin/tissue.hpp>
#include <tranche/optimise/cutting_problem.hpp>
#include <tranche/optimise/even_out.hpp>
#include <tranche/optimise/limits.hpp>
#include <tranche/optimise/objective.hpp>
#include <tranche/optimise/plans.hpp>
#include <tranche/optimise/segment.hpp>
#include <tranche/units/amount.hpp>
#include <tranche/units/currency.hpp>
#include <tranche/units/from_text.hpp>
#include <tranche/units/invalid_input.hpp>
#include <tranche/units/literals.hpp>
#include <tranche/units/micrograms.hpp>
#include <tranche/units/quantity.hpp>
#include <tranche/units/require.hpp>
#include <tranche/units/to_text.hpp>
#include <tranche/version.hpp>
