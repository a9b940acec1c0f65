// The whole job as one document with what is long to compile taken from the library `tranche::compiled`.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/compiled.hpp>
#include <tranche/sheet.hpp>

// As compiled.hpp: who links `tranche::compiled` has TRANCHE_COMPILED_SHEET defined, and without it this header is
// sheet.hpp and nothing more. Planning and writing are a source each of that library, so that they can be compiled
// side by side.
#ifdef TRANCHE_COMPILED_SHEET
#ifdef TRANCHE_COMPILED_PLANNING_HERE
#include <tranche/sheet_study.hpp>
#define TRANCHE_COMPILED_PLANNING
#else
#define TRANCHE_COMPILED_PLANNING extern
#endif
#ifdef TRANCHE_COMPILED_ANSWERS_HERE
#define TRANCHE_COMPILED_ANSWERS
#else
#define TRANCHE_COMPILED_ANSWERS extern
#endif

namespace tranche {

TRANCHE_COMPILED_PLANNING template sheet_answer plan_sheet<detail::when_called>(const cut_sheet&,
                                                                                const sheet_planning&);
TRANCHE_COMPILED_PLANNING template sheet_answer study_sheet<detail::when_called>(const cut_sheet&,
                                                                                 const sheet_planning&);

TRANCHE_COMPILED_ANSWERS template cut_sheet read_sheet<detail::when_called>(std::string_view);
TRANCHE_COMPILED_ANSWERS template std::string sheet_text<detail::when_called>(const cut_sheet&);

TRANCHE_COMPILED_ANSWERS template std::vector<report_section> answer_sections<detail::when_called>(const sheet_answer&);
TRANCHE_COMPILED_ANSWERS template std::string answer_text<detail::when_called>(const sheet_answer&);
TRANCHE_COMPILED_ANSWERS template std::vector<answer_file> answer_csv<detail::when_called>(const sheet_answer&);
TRANCHE_COMPILED_ANSWERS template std::vector<answer_file> answer_pictures<detail::when_called>(const sheet_answer&);
TRANCHE_COMPILED_ANSWERS template std::string answer_page<detail::when_called>(const sheet_answer&);
TRANCHE_COMPILED_ANSWERS template std::vector<answer_file> answer_cards<detail::when_called>(const sheet_answer&);

} // namespace tranche

#undef TRANCHE_COMPILED_PLANNING
#undef TRANCHE_COMPILED_ANSWERS
#endif
