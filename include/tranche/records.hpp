// Cutting tests over time: records, what they teach, their tables and charts.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/records/cutting_record.hpp>
#include <tranche/records/learned_losses.hpp>
#include <tranche/records/learned_trim.hpp>
#include <tranche/records/read_cutting_records.hpp>
#include <tranche/records/record_summary.hpp>
#include <tranche/report/pictures/control_chart.hpp>
#include <tranche/report/pictures/sample_picture.hpp>
#include <tranche/report/tables/record_tables.hpp>
#include <tranche/text/date.hpp>
