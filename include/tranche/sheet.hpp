// Cut sheets: the whole job as one document, read, written, planned and answered.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/sheet/cut_sheet.hpp>
