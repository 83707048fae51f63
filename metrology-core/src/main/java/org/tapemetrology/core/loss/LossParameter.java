/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.loss;

/**
 * The fitted size of one cause.
 *
 * @param cause the cause
 * @param value its size in {@link LossCause#unit()}
 * @param standardError standard error of the size, from the covariance of the fit
 */
public record LossParameter(LossCause cause, double value, double standardError) {}
