/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

/** A case with what is done to a meter for it. */
record Exercise<M>(ConformanceCase about, Procedure<M> procedure) {}
