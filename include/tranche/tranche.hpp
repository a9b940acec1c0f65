// The main job in one include, in the order in which data flows: this is the table of contents.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/version.hpp>

#include <tranche/units.hpp>
#include <tranche/text.hpp>
#include <tranche/loin.hpp>
#include <tranche/cut.hpp>
#include <tranche/optimise.hpp>
#include <tranche/cost.hpp>
#include <tranche/report.hpp>

// Other rooms, each by its own door:
//   <tranche/scans.hpp>           loins from triangle meshes
//   <tranche/weighed_slices.hpp>  a loin corrected by weighed slices
//   <tranche/statistics.hpp>      samples, regression, analysis of variance, control charts
//   <tranche/grind.hpp>           blends of grind under a fat limit
//   <tranche/packs.hpp>           labels, lots, ready-cut packs
//   <tranche/records.hpp>         cutting tests over time
//   <tranche/study.hpp>           what is uncertain, drawn many times over
//   <tranche/charts.hpp>          charts of plain numbers; <tranche/study_charts.hpp> of studies
//   <tranche/orders.hpp>          many loins for one order; <tranche/order_report.hpp> what it comes to
//   <tranche/sheet.hpp>           the whole job as one document; <tranche/sheet_json.hpp> in JSON
