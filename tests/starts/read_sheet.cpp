// A sheet read, and no other room asked.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/sheet/read_sheet.hpp>

int main() { return tranche::read_sheet("[loin]\nweight = 12 lb\n[cut steak]\nthickness = 1 in\n").cuts.size() == 0; }
