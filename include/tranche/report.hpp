// Text, CSV, SVG and HTML of the main job.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/report/answer_lines.hpp>
#include <tranche/report/board_card.hpp>
#include <tranche/report/cautions.hpp>
#include <tranche/report/formats/csv.hpp>
#include <tranche/report/formats/kitchen_units.hpp>
#include <tranche/report/formats/plain_text.hpp>
#include <tranche/report/formats/report_table.hpp>
#include <tranche/report/formats/savings_csv.hpp>
#include <tranche/report/formats/table_csv.hpp>
#include <tranche/report/html_report.hpp>
#include <tranche/report/page_foot.hpp>
#include <tranche/report/pictures/board_pictures.hpp>
#include <tranche/report/pictures/cut_faces.hpp>
#include <tranche/report/pictures/cut_ruler.hpp>
#include <tranche/report/pictures/face_pictures.hpp>
#include <tranche/report/pictures/loin_outline.hpp>
#include <tranche/report/pictures/loin_pictures.hpp>
#include <tranche/report/pictures/regret_picture.hpp>
#include <tranche/report/pictures/thickness_picture.hpp>
#include <tranche/report/pictures/waterfall.hpp>
#include <tranche/report/pictures/what_if_picture.hpp>
#include <tranche/report/report_section.hpp>
#include <tranche/report/report_sections.hpp>
#include <tranche/report/tables/bill_tables.hpp>
#include <tranche/report/tables/cost_tables.hpp>
#include <tranche/report/tables/plan_tables.hpp>
#include <tranche/report/tables/savings_tables.hpp>
#include <tranche/report/tables/usable_cost_table.hpp>
#include <tranche/report/tables/what_if_tables.hpp>
#include <tranche/report/text_report.hpp>
