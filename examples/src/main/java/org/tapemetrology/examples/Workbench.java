/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

/** The command line of the workbench. */
public final class Workbench {
    private Workbench() {}

    /**
     * Runs the workbench.
     *
     * @param arguments the command line
     */
    public static void main(String[] arguments) {
        System.out.println("workbench");
    }
}
