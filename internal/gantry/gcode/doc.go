// SPDX-License-Identifier: Apache-2.0

// Package gcode drives a motor controller that takes G-code by lines over a
// serial wire: the words of RS-274/NGC (NISTIR 6556) in the line protocol that the
// open firmware publishes with its version 1.1. Whatever does not fit that protocol
// stops the motion, and nothing moves again before the axes were homed.
//
// Frames: Machine in and out, metres, zero where homing leaves an axis, backed off
// from the switch at its low end; on the wire the firmware's own machine coordinates (G53), millimetres.
package gcode
