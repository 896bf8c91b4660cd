/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "commands.h"
#include "output.h"
#include "run.h"

int main(int argc, char **argv)
{
    th_output_guard();
    th_init();
    return th_run(th_commands, argc, argv);
}
