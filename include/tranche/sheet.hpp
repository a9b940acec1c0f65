// Cut sheets: the whole job as one document, read, written, planned and answered.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/report/card_sheet.hpp>
#include <tranche/sheet/answer_cards.hpp>
#include <tranche/sheet/answer_csv.hpp>
#include <tranche/sheet/answer_page.hpp>
#include <tranche/sheet/answer_pictures.hpp>
#include <tranche/sheet/answer_sections.hpp>
#include <tranche/sheet/answer_text.hpp>
#include <tranche/sheet/cut_sheet.hpp>
#include <tranche/sheet/kitchen_of.hpp>
#include <tranche/sheet/plan_sheet.hpp>
#include <tranche/sheet/read_sheet.hpp>
#include <tranche/sheet/sheet_answer.hpp>
#include <tranche/sheet/sheet_planning.hpp>
#include <tranche/sheet/study_sheet.hpp>
#include <tranche/sheet/write_sheet.hpp>
#include <tranche/text/date.hpp>
