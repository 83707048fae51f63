/* SPDX-License-Identifier: Apache-2.0 */
module consumer {
    requires org.tapemetrology.core;
    requires org.tapemetrology.signals;
}
