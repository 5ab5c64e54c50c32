//! Elastic interaction: tightening one bolt unloads its neighbours.
//!
//! A linear model to show why a second pass matters. Its answers are a demonstration; they
//! are no list of torques for an engine, whose gasket is not linear.

use quantity::{Force, NotFinite, Quantity, Ratio};

/// Why a model or a run of it is refused.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum InteractionFault {
    /// The rows do not make a square.
    #[error("row {row} has {found} coefficients where {bolts} bolts need {bolts}")]
    NotSquare {
        /// Row from 0.
        row: usize,
        /// Coefficients found.
        found: usize,
        /// Bolts.
        bolts: usize,
    },
    /// A coefficient that cannot be.
    #[error(
        "bolt {bolt} on itself must be 1, on others between -1 and 1; found {found} from bolt {cause}"
    )]
    Coefficient {
        /// The bolt that changes, from 0.
        bolt: usize,
        /// The bolt that is tightened, from 0.
        cause: usize,
        /// The value.
        found: f64,
    },
    /// The order is not every bolt once.
    #[error("the order must name each of the {bolts} bolts once")]
    NotAnOrder {
        /// Bolts.
        bolts: usize,
    },
    /// A result left the finite numbers.
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// Coefficients of a joint: row i, column j is the change of bolt i per unit change of bolt j.
#[derive(Clone, Debug, PartialEq)]
pub struct Interaction {
    rows: Vec<Vec<f64>>,
}

impl Interaction {
    /// A model from measured coefficients.
    ///
    /// # Errors
    /// [`InteractionFault::NotSquare`] or [`InteractionFault::Coefficient`].
    pub fn new(rows: &[Vec<Ratio>]) -> Result<Self, InteractionFault> {
        let bolts = rows.len();
        for (row, values) in rows.iter().enumerate() {
            if values.len() != bolts {
                return Err(InteractionFault::NotSquare {
                    row,
                    found: values.len(),
                    bolts,
                });
            }
            for (column, value) in values.iter().enumerate() {
                let c = value.in_fraction();
                let right = if row == column {
                    (c - 1.0).abs() < 1e-12
                } else {
                    c.abs() < 1.0
                };
                if !right {
                    return Err(InteractionFault::Coefficient {
                        bolt: row,
                        cause: column,
                        found: c,
                    });
                }
            }
        }
        let rows = rows
            .iter()
            .map(|row| row.iter().map(|c| c.in_fraction()).collect())
            .collect();
        Ok(Self { rows })
    }

    /// Bolts on a ring, with one coefficient for each distance: the first for neighbours.
    /// Distances beyond the list do not interact.
    ///
    /// # Errors
    /// [`InteractionFault::Coefficient`] for a value outside -1 to 1.
    pub fn ring(bolts: usize, by_distance: &[Ratio]) -> Result<Self, InteractionFault> {
        let one = Ratio::fraction(1.0)?;
        let none = Ratio::fraction(0.0)?;
        let rows: Vec<Vec<Ratio>> = (0..bolts)
            .map(|i| {
                (0..bolts)
                    .map(|j| {
                        let apart = i.abs_diff(j);
                        match apart.min(bolts - apart) {
                            0 => one,
                            distance => by_distance.get(distance - 1).copied().unwrap_or(none),
                        }
                    })
                    .collect()
            })
            .collect();
        Self::new(&rows)
    }

    fn check_order(&self, order: &[usize]) -> Result<(), InteractionFault> {
        let bolts = self.rows.len();
        let mut seen = vec![false; bolts];
        for &bolt in order {
            match seen.get_mut(bolt) {
                Some(mark) if !*mark => *mark = true,
                Some(_) | None => return Err(InteractionFault::NotAnOrder { bolts }),
            }
        }
        if order.len() == bolts {
            Ok(())
        } else {
            Err(InteractionFault::NotAnOrder { bolts })
        }
    }

    /// The load of every bolt after each pass, all bolts brought to one setting a pass.
    ///
    /// # Formula
    /// Bringing bolt j from F_j to S moves every tight bolt i by c_ij·(S − F_j).
    /// # Units
    /// Order of bolts from 0, one setting for each pass; returns forces by bolt.
    /// # Range
    /// Linear, no yield, no gasket creep.
    /// # Source
    /// Elastic interaction method (Van Campen, Bibel), US patent 5,278,775, abstract. *Published.*
    /// # Errors
    /// [`InteractionFault::NotAnOrder`].
    /// # Example
    /// ```
    /// use calc::interaction::Interaction;
    /// use quantity::{Force, Ratio};
    ///
    /// let two = Interaction::ring(2, &[Ratio::fraction(-0.2)?])?;
    /// let after = two.passes(&[0, 1], &[Force::kilonewtons(10.0)?])?;
    /// assert!((after[0][0].in_kilonewtons() - 8.0).abs() < 1e-12);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn passes(
        &self,
        order: &[usize],
        settings: &[Force],
    ) -> Result<Vec<Vec<Force>>, InteractionFault> {
        self.check_order(order)?;
        let bolts = self.rows.len();
        let mut loads = vec![0.0; bolts];
        let mut tight = vec![false; bolts];
        let mut after = Vec::with_capacity(settings.len());
        for setting in settings {
            for &bolt in order {
                let change = setting.si() - loads[bolt];
                tight[bolt] = true;
                for (other, load) in loads.iter_mut().enumerate() {
                    if tight[other] {
                        *load += self.rows[other][bolt] * change;
                    }
                }
            }
            after.push(in_newtons(&loads)?);
        }
        Ok(after)
    }

    /// The setting each bolt would need so that a single pass ends even. Shown to explain,
    /// not to be used as a list of torques: some settings exceed what a bolt bears.
    ///
    /// # Formula
    /// A·S = F, A upper triangular in the order of tightening; solved from the last bolt back.
    /// # Units
    /// Order of bolts from 0 and the even load wanted; returns forces by bolt.
    /// # Range
    /// As [`Interaction::passes`].
    /// # Source
    /// As [`Interaction::passes`].
    /// # Errors
    /// [`InteractionFault::NotAnOrder`].
    /// # Example
    /// ```
    /// use calc::interaction::Interaction;
    /// use quantity::{Force, Ratio};
    ///
    /// let two = Interaction::ring(2, &[Ratio::fraction(-0.2)?])?;
    /// let settings = two.even_settings(&[0, 1], Force::kilonewtons(10.0)?)?;
    /// assert!((settings[0].in_kilonewtons() - 12.0).abs() < 1e-12);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn even_settings(
        &self,
        order: &[usize],
        target: Force,
    ) -> Result<Vec<Force>, InteractionFault> {
        self.check_order(order)?;
        let mut settings = vec![0.0; self.rows.len()];
        for (turn, &bolt) in order.iter().enumerate().rev() {
            let later: f64 = order[turn + 1..]
                .iter()
                .map(|&next| self.rows[bolt][next] * settings[next])
                .sum();
            settings[bolt] = target.si() - later;
        }
        in_newtons(&settings)
    }
}

fn in_newtons(values: &[f64]) -> Result<Vec<Force>, InteractionFault> {
    values
        .iter()
        .map(|&value| Force::newtons(value).map_err(InteractionFault::from))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pattern;
    use proptest::prelude::*;

    fn c(values: &[f64]) -> Vec<Ratio> {
        values
            .iter()
            .map(|&value| Ratio::fraction(value).unwrap())
            .collect()
    }

    fn four() -> Interaction {
        Interaction::ring(4, &c(&[-0.20, 0.05])).unwrap()
    }

    fn eight() -> Interaction {
        Interaction::ring(8, &c(&[-0.15, -0.05, 0.0, 0.02])).unwrap()
    }

    fn kn(value: f64) -> Force {
        Force::kilonewtons(value).unwrap()
    }

    fn close(found: &[Force], expected: &[f64], tolerance: f64) {
        assert_eq!(found.len(), expected.len());
        for (found, expected) in found.iter().zip(expected) {
            assert!(
                (found.in_kilonewtons() - expected).abs() < tolerance,
                "{found:?} {expected}"
            );
        }
    }

    fn spread(loads: &[Force]) -> f64 {
        let values: Vec<f64> = loads.iter().map(|load| load.in_kilonewtons()).collect();
        let high = values.iter().copied().fold(f64::MIN, f64::max);
        high - values.iter().copied().fold(f64::MAX, f64::min)
    }

    /// Source: the linear model with numpy 2.4.6. *Computed by a general library (numpy 2.4.6).*
    #[test]
    fn t38_four_bolts_after_one_star() {
        let after = four()
            .passes(&pattern::star(4).unwrap(), &[kn(20.0)])
            .unwrap();
        close(&after[0], &[13.0, 21.0, 12.0, 20.0], 1e-9);
    }

    /// Source: the linear model with numpy 2.4.6. *Computed by a general library (numpy 2.4.6).*
    #[test]
    fn t39_settings_for_an_even_end() {
        let settings = four()
            .even_settings(&pattern::star(4).unwrap(), kn(20.0))
            .unwrap();
        close(&settings, &[26.41, 19.0, 27.8, 20.0], 1e-9);
        let ring = four().even_settings(&[0, 1, 2, 3], kn(20.0)).unwrap();
        close(&ring, &[27.56, 23.80, 24.00, 20.00], 1e-9);
    }

    /// Source: the linear model with numpy 2.4.6. *Computed by a general library.*
    #[test]
    fn later_passes_even_out() {
        let star = pattern::star(4).unwrap();
        let after = four().passes(&star, &[kn(20.0); 3]).unwrap();
        close(&after[1], &[19.4298, 20.14167, 19.0473, 20.0], 6e-5);
        close(&after[2], &[19.95657, 20.01455, 19.91036, 20.0], 6e-6);
        let ring = four().passes(&[0, 1, 2, 3], &[kn(20.0); 2]).unwrap();
        close(&ring[0], &[13.0, 17.0, 16.0, 20.0], 1e-9);
        close(&ring[1], &[18.9293, 19.1983, 19.5828, 20.0], 6e-5);
        let steps = four()
            .passes(&star, &[kn(6.0), kn(14.0), kn(20.0), kn(20.0)])
            .unwrap();
        close(&steps[2], &[16.6952, 20.4787, 16.1894, 20.0], 6e-5);
        close(&steps[3], &[19.7311, 20.0672, 19.5488, 20.0], 6e-5);
    }

    /// Source: the linear model with numpy 2.4.6. *Computed by a general library.*
    #[test]
    fn eight_bolts_in_a_star() {
        let star = pattern::star(8).unwrap();
        let after = eight().passes(&star, &[kn(30.0); 4]).unwrap();
        close(
            &after[0],
            &[18.6, 27.6, 21.6, 30.6, 18.0, 27.0, 21.0, 30.0],
            1e-9,
        );
        for (loads, expected) in after.iter().zip([12.60, 2.451, 0.387, 0.061]) {
            assert!((spread(loads) - expected).abs() < 6e-4, "{expected}");
        }
        let settings = eight().even_settings(&star, kn(30.0)).unwrap();
        close(
            &settings,
            &[42.377, 32.311, 38.468, 29.400, 43.251, 32.970, 39.446, 30.0],
            6e-4,
        );
    }

    #[test]
    fn a_model_or_order_that_cannot_be_is_refused() {
        assert!(matches!(
            Interaction::new(&[c(&[1.0, 0.1]), c(&[0.1])]),
            Err(InteractionFault::NotSquare { row: 1, .. })
        ));
        assert!(Interaction::new(&[c(&[0.9])]).is_err());
        assert!(Interaction::ring(4, &c(&[-1.2])).is_err());
        for order in [&[0, 1, 2][..], &[0, 1, 2, 2], &[0, 1, 2, 4]] {
            assert!(four().passes(order, &[kn(1.0)]).is_err());
        }
    }

    proptest! {
        /// Source: the invariant of a symmetric model: the mean after one pass of 30 kN is
        /// 24.3 kN in any order. *Computed by a general library (numpy 2.4.6).*
        #[test]
        fn t40_the_mean_does_not_depend_on_the_order(order in Just((0..8_usize).collect::<Vec<_>>()).prop_shuffle()) {
            let after = eight().passes(&order, &[kn(30.0)]).unwrap();
            let mean = after[0].iter().map(|load| load.in_kilonewtons()).sum::<f64>() / 8.0;
            prop_assert!((mean - 24.3).abs() < 1e-9);
        }

        /// The settings for an even end do end even.
        #[test]
        fn even_settings_end_even(order in Just((0..8_usize).collect::<Vec<_>>()).prop_shuffle()) {
            let model = eight();
            let settings = model.even_settings(&order, kn(30.0)).unwrap();
            let mut loads = [0.0; 8];
            for (turn, &bolt) in order.iter().enumerate() {
                for &earlier in &order[..turn] {
                    loads[earlier] += model.rows[earlier][bolt] * settings[bolt].in_kilonewtons();
                }
                loads[bolt] += settings[bolt].in_kilonewtons();
            }
            prop_assert!(loads.iter().all(|load| (load - 30.0).abs() < 1e-9));
        }
    }
}
