//! The eigenvectors of a small symmetric matrix.

/// The eigenvalues of a symmetric matrix, least first, each with its eigenvector of length 1.
///
/// # Source
/// Jacobi's method in cyclic order: Golub and Van Loan, "Matrix Computations", the chapter on the symmetric eigenvalue
/// problem; from memory.
pub(in crate::derive) fn eigen<const N: usize>(mut matrix: [[f64; N]; N]) -> Vec<(f64, [f64; N])> {
    let mut vectors: [[f64; N]; N] =
        std::array::from_fn(|i| std::array::from_fn(|j| f64::from(u8::from(i == j))));
    // It converges by squares; six rounds are usual for nine rows, and the rest is for safety.
    for _ in 0..50 {
        let outside: f64 =
            (0..N).flat_map(|i| (0..i).map(move |j| (i, j))).map(|(i, j)| matrix[i][j].abs()).sum();
        let trace: f64 = (0..N).map(|i| matrix[i][i].abs()).sum();
        if outside <= trace * 1e-18 {
            break;
        }
        for p in 0..N {
            for q in p + 1..N {
                rotate(&mut matrix, &mut vectors, p, q);
            }
        }
    }
    let vector = |place: usize| std::array::from_fn(|row| vectors[row][place]);
    let mut found: Vec<(f64, [f64; N])> = (0..N).map(|place| (matrix[place][place], vector(place))).collect();
    found.sort_by(|one, other| one.0.total_cmp(&other.0));
    found
}

/// Turns the plane of two axes so that the two no longer mix.
fn rotate<const N: usize>(matrix: &mut [[f64; N]; N], vectors: &mut [[f64; N]; N], p: usize, q: usize) {
    if matrix[p][q] == 0.0 {
        return;
    }
    let theta = (matrix[q][q] - matrix[p][p]) / (2.0 * matrix[p][q]);
    let tangent = theta.signum() / (theta.abs() + (theta * theta + 1.0).sqrt());
    let cosine = 1.0 / (tangent * tangent + 1.0).sqrt();
    let sine = tangent * cosine;
    let turned = |a: f64, b: f64| (cosine * a - sine * b, sine * a + cosine * b);
    for row in matrix.iter_mut() {
        (row[p], row[q]) = turned(row[p], row[q]);
    }
    let (above, below) = matrix.split_at_mut(q);
    for (a, b) in above[p].iter_mut().zip(&mut below[0]) {
        (*a, *b) = turned(*a, *b);
    }
    for row in vectors.iter_mut() {
        (row[p], row[q]) = turned(row[p], row[q]);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_case_worked_by_hand() {
        let [(low, _), (high, along)] = eigen([[2.0, 1.0], [1.0, 2.0]])[..] else { panic!("two rows") };
        assert!((low - 1.0).abs() < 1e-15 && (high - 3.0).abs() < 1e-15);
        assert!((along[0] - along[1]).abs() < 1e-15);
    }

    proptest! {
        /// The matrix stretches each vector by its value.
        #[test]
        fn what_was_found_fits(half in prop::array::uniform5(prop::array::uniform5(-9.0..9.0f64))) {
            let matrix: [[f64; 5]; 5] = std::array::from_fn(|i| std::array::from_fn(|j| half[i][j] + half[j][i]));
            for (value, vector) in eigen(matrix) {
                for (row, own) in matrix.iter().zip(vector) {
                    let sum: f64 = row.iter().zip(vector).map(|(one, other)| one * other).sum();
                    prop_assert!((sum - value * own).abs() < 1e-10);
                }
            }
        }
    }
}
