/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.loss;

/**
 * The fitted size of one cause.
 *
 * <p>Made by {@link LossFit}; its numbers are not checked.
 *
 * @param cause the cause
 * @param value its size in {@link LossCause#unit()}
 * @param standardError standard error of the size in the same unit, from the covariance of the fit
 */
public record LossParameter(LossCause cause, double value, double standardError) {}
