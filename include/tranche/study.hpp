// Studies: what is uncertain, drawn many times over, and what comes of it.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/loin/loin_factors.hpp>
#include <tranche/loin/varied_profiles.hpp>
#include <tranche/study/loins/carried_out.hpp>
#include <tranche/study/loins/cutting_hand.hpp>
#include <tranche/study/loins/loin_output.hpp>
#include <tranche/study/loins/loin_study.hpp>
#include <tranche/study/loins/loin_terms.hpp>
#include <tranche/study/loins/ways_to_cut.hpp>
#include <tranche/study/random/distribution.hpp>
#include <tranche/study/random/philox.hpp>
#include <tranche/study/random/random_stream.hpp>
#include <tranche/study/random/sobol_points.hpp>
#include <tranche/study/random/study_inputs.hpp>
#include <tranche/study/run/executors.hpp>
#include <tranche/study/run/run_study.hpp>
#include <tranche/study/run/study_bytes.hpp>
#include <tranche/study/run/study_comparison.hpp>
#include <tranche/study/run/study_model.hpp>
#include <tranche/study/run/study_options.hpp>
#include <tranche/study/run/study_result.hpp>
#include <tranche/study/sensitivity/information_value.hpp>
#include <tranche/study/sensitivity/sensitivity_options.hpp>
#include <tranche/study/sensitivity/sobol_indices.hpp>
#include <tranche/study/summary/estimates.hpp>
#include <tranche/study/summary/exact_summary.hpp>
#include <tranche/study/summary/study_output.hpp>
#include <tranche/study/summary/tolerance_limits.hpp>
#include <tranche/study/sweep/robust_choice.hpp>
#include <tranche/study/sweep/run_sweep.hpp>
#include <tranche/study/sweep/sweep_csv.hpp>
#include <tranche/study/sweep/sweep_design.hpp>
#include <tranche/study/vary/known_variations.hpp>
#include <tranche/study/vary/loin_variation.hpp>
#include <tranche/study/vary/varied.hpp>
