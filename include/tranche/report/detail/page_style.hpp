// How pages look: on a phone, on a desk, in the dark and on paper.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <string_view>

namespace tranche::detail {

/// On a phone, rows of a table with heads stack, each cell below the head of its column, as many side by side as there is room for;
/// names take a line of their own, beside the number if the row begins with one.
inline constexpr std::string_view stacked_rows_style = R"(
@media screen and (max-width: 40rem) {
  table.headed, .headed thead, .headed tbody, .headed tr, .headed caption { display: block; }
  .headed thead { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
  .headed tbody tr { display: grid; grid-template-columns: repeat(auto-fill, minmax(6.5rem, 1fr)); gap: 0.25rem 0.75rem;
    padding: 0.4rem 0; border-top: 1px solid var(--line); }
  .headed tbody tr.total { border-top: 2px solid var(--ink); }
  .headed tbody tr > td { display: block; padding: 0; border: 0; text-align: left; white-space: normal; min-width: 0;
    overflow-wrap: anywhere; }
  .headed td:not(.number) { grid-column: 1 / -1; }
  .headed td.number:first-child + td:not(.number) { grid-column: 2 / -1; font-weight: bold; }
  .headed td:not(.number):first-child { font-weight: bold; }
  .headed td::before { content: attr(data-head); display: block; color: var(--faint); font-size: 0.8em; font-weight: normal;
    line-height: 1.3; }
  .headed td:empty:not(.box) { display: none; }
}
)";

/// Wide pictures scroll in boxes of their own; rows of tables stack on a phone. On paper everything is open, tables that fit on a
/// page stay whole, and nothing is wider than the page: a browser would shrink it, ruler and all. Pictures keep white paper.
inline constexpr std::string_view report_style = R"(
:root { color-scheme: light dark; --paper: #fff; --ink: #1a1a1a; --faint: #595959; --line: #d9d9d9; --soft: #eef4f9;
  --accent: #005a8c; --alarm: #a34700; }
@media (prefers-color-scheme: dark) {
  :root { --paper: #15181b; --ink: #e6e6e6; --faint: #b0b6bc; --line: #3c434a; --soft: #1f272e; --accent: #7cc0f2;
    --alarm: #ffa36b; }
}
* { box-sizing: border-box; -webkit-print-color-adjust: exact; print-color-adjust: exact; }
body { margin: 0 auto; padding: 1.5rem; max-width: 60rem; background: var(--paper); color: var(--ink);
  font: 1rem/1.5 system-ui, sans-serif; }
h1 { margin: 0 0 1rem; font-size: 1.8rem; line-height: 1.2; overflow-wrap: anywhere; }
h2 { margin: 2rem 0 0.5rem; padding-bottom: 0.2rem; border-bottom: 2px solid var(--accent); font-size: 1.2rem; }
p, li, caption, summary { overflow-wrap: anywhere; }
a { color: var(--accent); }
.answer { margin: 1rem 0; padding: 0.75rem 1rem; border-left: 0.4rem solid var(--accent); background: var(--soft); }
.answer h2 { margin: 0; padding: 0; border: 0; font-size: 0.95rem; color: var(--faint); }
.answer p { margin: 0.25rem 0 0; font-size: 1.15rem; }
.warnings { margin: 1rem 0; padding: 0.5rem 1rem; border: 2px solid var(--alarm); }
.warnings h2 { margin-top: 0; border-color: var(--alarm); }
nav ul { display: flex; flex-wrap: wrap; gap: 0.25rem 1.25rem; margin: 0.5rem 0; padding: 0; list-style: none; }
nav a { display: inline-block; padding: 0.15rem 0; }
summary { cursor: pointer; }
summary h2 { display: inline-block; width: calc(100% - 1.5rem); margin: 0.75rem 0 0; vertical-align: baseline; }
.behind { scroll-margin-top: 5rem; }
:focus-visible { outline: 3px solid var(--accent); outline-offset: 2px; }
table { margin: 0.5rem 0 1rem; border-collapse: collapse; font-variant-numeric: tabular-nums; }
caption { padding-bottom: 0.25rem; text-align: left; font-weight: bold; }
th, td { padding: 0.25rem 0.75rem 0.25rem 0; text-align: left; vertical-align: top; }
thead th { border-bottom: 1px solid var(--ink); vertical-align: bottom; }
tbody tr + tr > * { border-top: 1px solid var(--line); }
tbody tr.total > * { border-top: 1px solid var(--ink); font-weight: bold; }
tbody th { font-weight: normal; }
.number { text-align: right; }
td.number { white-space: nowrap; }
td:not(.number) { min-width: 8.5rem; }
.long { overflow-wrap: anywhere; }
.scroll { overflow-x: auto; }
figure { margin: 1rem 0; }
figure svg { display: block; width: 100%; min-width: 36rem; max-width: 60rem; height: auto; }
.strip { margin: 0.5rem 0; }
.strip svg { display: block; max-width: none; }
footer { margin-top: 2rem; padding-top: 0.5rem; border-top: 1px solid var(--line); color: var(--faint); font-size: 0.85rem;
  overflow-wrap: anywhere; }
@media screen and (max-width: 40rem) {
  body { padding: 1rem; }
  h1 { font-size: 1.5rem; }
  .scroll table:not(.headed) { width: 100%; }
  .scroll table:not(.headed) td.number { white-space: normal; }
}
@page { margin: 10mm; }
@media print {
  :root { color-scheme: light; --paper: #fff; --ink: #000; --faint: #444; --line: #ccc; --soft: #eef4f9; --accent: #005a8c;
    --alarm: #a34700; }
  body { padding: 0; max-width: none; font-size: 10pt; line-height: 1.35; }
  h1 { font-size: 16pt; }
  h2 { margin-top: 5mm; break-after: avoid; }
  summary { break-after: avoid; list-style: none; }
  summary h2 { width: 100%; }
  nav, .as-tables { display: none; }
  details::details-content { content-visibility: visible; display: block; height: auto; block-size: auto; overflow: visible; }
  figure svg { width: auto; min-width: 0; max-width: 100%; max-height: 120mm; }
  .all-faces svg { max-height: 250mm; }
  th, td { padding: 0.6mm 2mm 0.6mm 0; }
  td.number { white-space: normal; }
  td:not(.number) { min-width: 6rem; }
  .scroll { overflow: visible; }
  tr, li, figure, .strip, .answer, .warnings, .short { break-inside: avoid; }
  p { orphans: 2; widows: 2; }
  .ruler { break-before: page; }
  .ruler h2 { margin-top: 0; }
  .strip { margin: 0 0 1mm; }
}
)";

} // namespace tranche::detail
