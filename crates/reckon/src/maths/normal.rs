//! Normal equations of least squares.

/// The inverse of a symmetric positive matrix, such as that of normal equations, by Cholesky's factors of the
/// matrix scaled to ones on its diagonal. `None` where it is not positive, or where a column is made of the
/// others to `1e-12` of its square.
#[must_use]
pub fn inverse_of_normal(matrix: &[Vec<f64>]) -> Option<Vec<Vec<f64>>> {
    let n = matrix.len();
    let scale: Vec<f64> = (0..n).map(|i| matrix[i][i].sqrt()).collect();
    if !scale.iter().all(|s| *s > 0.0 && s.is_finite()) {
        return None;
    }
    // The lower factor, row by row.
    let mut lower = vec![vec![0.0; n]; n];
    for i in 0..n {
        for j in 0..=i {
            let inner: f64 = (0..j).map(|k| lower[i][k] * lower[j][k]).sum();
            let left = matrix[i][j] / (scale[i] * scale[j]) - inner;
            if i != j {
                lower[i][j] = left / lower[j][j];
            } else if left > 1e-12 {
                lower[i][i] = left.sqrt();
            } else {
                return None;
            }
        }
    }
    // Its inverse, then the product with its own transpose.
    let mut back = vec![vec![0.0; n]; n];
    for j in 0..n {
        back[j][j] = 1.0 / lower[j][j];
        for i in j + 1..n {
            let inner: f64 = (j..i).map(|k| lower[i][k] * back[k][j]).sum();
            back[i][j] = -inner / lower[i][i];
        }
    }
    let entry = |i: usize, j: usize| -> f64 { (i.max(j)..n).map(|k| back[k][i] * back[k][j]).sum() };
    Some((0..n).map(|i| (0..n).map(|j| entry(i, j) / (scale[i] * scale[j])).collect()).collect())
}
/// A matrix by a column.
#[must_use]
pub fn times(matrix: &[Vec<f64>], column: &[f64]) -> Vec<f64> {
    matrix.iter().map(|row| row.iter().zip(column).map(|(a, b)| a * b).sum()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn inverse_of_a_hilbert_matrix_is_in_whole_numbers() {
        // Closed form of the inverse of order 4: Choi, "Tricks or treats with the Hilbert matrix", 1983, from memory.
        let hilbert: Vec<Vec<f64>> =
            (0..4).map(|i| (0..4).map(|j| 1.0 / f64::from(i + j + 1)).collect()).collect();
        let want = [
            [16.0, -120.0, 240.0, -140.0],
            [-120.0, 1200.0, -2700.0, 1680.0],
            [240.0, -2700.0, 6480.0, -4200.0],
            [-140.0, 1680.0, -4200.0, 2800.0],
        ];
        let got = inverse_of_normal(&hilbert).expect("positive");
        for (row, want) in got.iter().zip(want) {
            for (a, b) in row.iter().zip(want) {
                assert!((a - b).abs() <= 1e-9 * b.abs(), "{a} and not {b}");
            }
        }
    }
    #[test]
    fn columns_of_any_size_come_back() {
        // Seconds squared beside ones: sizes that differ by twelve powers of ten.
        let m = vec![vec![1e12, 3e5], vec![3e5, 1.0]];
        let back = inverse_of_normal(&m).expect("positive");
        let unit = times(&m, &[back[0][0], back[1][0]]);
        assert!((unit[0] - 1.0).abs() < 1e-12 && unit[1].abs() < 1e-12, "{unit:?}");
    }
    #[test]
    fn what_has_no_inverse_is_none() {
        let alike = vec![vec![4.0, 6.0], vec![6.0, 9.0]];
        assert_eq!(inverse_of_normal(&alike), None);
        assert_eq!(inverse_of_normal(&[vec![1.0, 2.0], vec![2.0, 1.0]]), None);
        assert_eq!(inverse_of_normal(&[vec![0.0]]), None);
        assert_eq!(inverse_of_normal(&[vec![f64::NAN]]), None);
    }
}
