/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.uncertainty;

import org.ejml.data.DMatrixRMaj;
import org.ejml.dense.row.CommonOps_DDRM;
import org.ejml.dense.row.factory.DecompositionFactory_DDRM;
import org.ejml.interfaces.decomposition.EigenDecomposition_F64;

/** Covariance matrices: checked, and their root, which exists where inputs are fully correlated too. */
final class Covariance {
    private static final double ROUNDING = 1e-10;

    private Covariance() {}

    static DMatrixRMaj checked(String name, double[][] matrix) {
        int size = matrix.length;
        for (int i = 0; i < size; i++) {
            if (matrix[i].length != size) {
                throw new IllegalArgumentException(
                        name + ": row " + i + " has " + matrix[i].length + " columns where " + size + " are needed");
            }
            for (int j = 0; j < size; j++) {
                if (!Double.isFinite(matrix[i][j])) {
                    throw new IllegalArgumentException(
                            name + ": element " + i + ", " + j + " is " + matrix[i][j] + ", not finite");
                }
                double scale = Math.sqrt(Math.abs(matrix[i][i] * matrix[j][j]));
                if (!(Math.abs(matrix[i][j] - matrix[j][i]) <= ROUNDING * scale)) {
                    throw new IllegalArgumentException(name + ": element " + i + ", " + j + " is " + matrix[i][j]
                            + ", its mirror image " + matrix[j][i]);
                }
            }
        }
        return new DMatrixRMaj(matrix);
    }

    /**
     * A matrix R with R R' equal to the covariance, by the eigenvalues of the correlations: a triangular one does not exist
     * for every singular matrix.
     */
    static DMatrixRMaj root(String name, double[][] matrix) {
        DMatrixRMaj scaled = checked(name, matrix);
        int size = scaled.numRows;
        DMatrixRMaj root = new DMatrixRMaj(size, size);
        double[] deviations = new double[size];
        for (int i = 0; i < size; i++) {
            if (matrix[i][i] < 0) {
                throw new IllegalArgumentException(name + ": variance " + i + " is " + matrix[i][i] + ", below 0");
            }
            deviations[i] = Math.sqrt(matrix[i][i]);
        }
        for (int i = 0; i < size; i++) {
            for (int j = 0; j < size; j++) {
                double scale = deviations[i] * deviations[j];
                scaled.set(i, j, scale == 0 ? 0 : scaled.get(i, j) / scale);
            }
        }
        EigenDecomposition_F64<DMatrixRMaj> eigen = DecompositionFactory_DDRM.eig(size, true, true);
        if (!eigen.decompose(scaled)) {
            throw new ArithmeticException(name + ": the eigenvalues were not found");
        }
        for (int k = 0; k < size; k++) {
            double value = eigen.getEigenvalue(k).getReal();
            if (value < -ROUNDING * size) {
                throw new IllegalArgumentException(
                        name + ": no inputs can be correlated so, an eigenvalue is " + value + ", below 0");
            }
            DMatrixRMaj vector = eigen.getEigenVector(k);
            for (int i = 0; i < size; i++) {
                root.set(i, k, deviations[i] * vector.get(i) * Math.sqrt(Math.max(0, value)));
            }
        }
        return root;
    }

    /** {@code J U J'} (JCGM 100:2008, 5.2.2 and H.2.3, in matrix form). */
    static double[][] propagated(double[][] jacobian, double[][] covariance) {
        DMatrixRMaj j = new DMatrixRMaj(jacobian);
        DMatrixRMaj product = new DMatrixRMaj(1, 1);
        CommonOps_DDRM.mult(j, checked("covariance", covariance), product);
        DMatrixRMaj result = new DMatrixRMaj(1, 1);
        CommonOps_DDRM.multTransB(product, j, result);
        double[][] rows = new double[result.numRows][result.numCols];
        for (int i = 0; i < result.numRows; i++) {
            for (int k = 0; k < result.numCols; k++) {
                rows[i][k] = result.get(i, k);
            }
        }
        return rows;
    }
}
