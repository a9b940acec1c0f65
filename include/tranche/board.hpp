// At the board: a loin of a cut sheet while it is cut and once it is, and forms for those who weigh for themselves.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/sheet/board/board_account.hpp>
#include <tranche/sheet/board/board_session.hpp>
#include <tranche/sheet/forms/class_results.hpp>
#include <tranche/sheet/forms/yield_form.hpp>
