// Command arrisbook is a workbook for shop classes in joinery layout: the
// server that a class works with, and the same geometry, blanks and grading on
// the command line.
//
//	arrisbook serve -demo
//	arrisbook layout head-v-joint thickness=25 width=59.5 v_length=40 v_width=30.5 head_angle=9.5 head_thickness=16 allowance=0.5
//
// This package wires the others together: it reads flags and the environment,
// checks them and hands them down. Each subcommand has a file of its own.
package main
