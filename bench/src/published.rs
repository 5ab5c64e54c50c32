//! Reads the published instances under `testdata/published`.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, bail, ensure};
use planning::{crew, order};

/// The folder of published data.
pub fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../testdata/published")
}

/// The files with this ending in a folder, by name without the ending, sorted.
pub fn files(folder: &Path, ending: &str) -> Result<Vec<(String, PathBuf)>> {
    let entries =
        fs::read_dir(folder).with_context(|| format!("cannot list {}", folder.display()))?;
    let mut found = Vec::new();
    for entry in entries {
        let path = entry?.path();
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        if let Some(name) = name.strip_suffix(ending) {
            found.push((name.to_owned(), path.clone()));
        }
    }
    found.sort();
    ensure!(
        !found.is_empty(),
        "no {ending} files in {}",
        folder.display()
    );
    Ok(found)
}

/// The named column of whole numbers of a comma-separated table, by its first column.
pub fn column(file: &Path, name: &str) -> Result<BTreeMap<String, u64>> {
    let text = read(file)?;
    let mut lines = text.lines();
    let heads = lines.next().unwrap_or_default();
    let place = heads.split(',').position(|head| head.trim() == name);
    let place = place.with_context(|| format!("{}: no column {name}", file.display()))?;
    let rows = lines
        .enumerate()
        .filter(|(_, line)| !line.trim().is_empty());
    rows.map(|(i, line)| {
        let cells: Vec<&str> = line.split(',').map(str::trim).collect();
        let value = cells.get(place).and_then(|cell| cell.parse().ok());
        let value = value
            .with_context(|| format!("{}:{}: no number in column {name}", file.display(), i + 2))?;
        Ok((cells[0].to_owned(), value))
    })
    .collect()
}

/// A file as text.
pub fn read(file: &Path) -> Result<String> {
    fs::read_to_string(file).with_context(|| format!("cannot read {}", file.display()))
}

/// An ordering instance in the form [`ordering`] reads.
pub fn as_ordering(name: &str, problem: &order::Problem) -> String {
    let n = problem.len();
    let mut text = format!("NAME: {name}\nTYPE: SOP\nDIMENSION: {n}\nEDGE_WEIGHT_SECTION\n{n}\n");
    for from in 0..n {
        let cell = |to: usize| match problem.must_precede(to, from) {
            true => "-1".to_owned(),
            false => problem.cost(from, to).to_string(),
        };
        let row: Vec<String> = (0..n).map(cell).collect();
        text += &row.join(" ");
        text.push('\n');
    }
    text + "EOF\n"
}

/// Reads an ordering instance in the TSPLIB form: after `EDGE_WEIGHT_SECTION` the number
/// of steps and the table row by row, where -1 in row i, column j says that j must come
/// before i.
pub fn ordering(text: &str) -> Result<order::Problem> {
    let mut words = text
        .lines()
        .enumerate()
        .skip_while(|(_, line)| !line.trim().starts_with("EDGE_WEIGHT_SECTION"))
        .skip(1)
        .take_while(|(_, line)| line.trim() != "EOF")
        .flat_map(|(i, line)| line.split_whitespace().map(move |word| (i + 1, word)));
    let mut number = |what: &str| -> Result<i64> {
        let Some((line, word)) = words.next() else {
            bail!("the file ends before the {what}");
        };
        let read = word.parse();
        read.with_context(|| format!("line {line}: {word:?} is no whole number ({what})"))
    };
    let n =
        usize::try_from(number("number of steps")?).context("the number of steps is negative")?;
    ensure!(n <= 5_000, "{n} steps are more than this reader takes");
    let mut costs = vec![0; n * n];
    let mut pairs = Vec::new();
    for i in 0..n {
        for j in 0..n {
            let entry = number("cost table")?;
            if entry == -1 {
                pairs.push((j, i));
            } else {
                let cost = u32::try_from(entry);
                costs[i * n + j] =
                    cost.with_context(|| format!("row {i}, column {j}: {entry} is no cost"))?;
            }
        }
    }
    ensure!(
        number("end").is_err(),
        "there are numbers after the cost table"
    );
    Ok(order::Problem::new(n, &costs, &pairs)?)
}

/// Reads a scheduling instance in the Patterson form (`.rcp`): numbers of activities and
/// resources, capacities, then for each activity its duration, its needs, how many
/// follow it and which, counted from 1.
pub fn project(text: &str) -> Result<crew::Problem> {
    let mut words = text
        .lines()
        .enumerate()
        .flat_map(|(i, line)| line.split_whitespace().map(move |word| (i + 1, word)));
    let mut number = |what: &str| -> Result<u32> {
        let Some((line, word)) = words.next() else {
            bail!("the file ends before the {what}");
        };
        let read = word.parse();
        read.with_context(|| format!("line {line}: {word:?} is no whole number ({what})"))
    };
    let (count, kinds) = (
        number("number of activities")?,
        number("number of resources")?,
    );
    ensure!(
        count <= 10_000 && kinds <= 100,
        "more activities or resources than this reader takes"
    );
    let mut resources = Vec::new();
    for _ in 0..kinds {
        resources.push(crew::Resource {
            amount: number("capacities")?,
            hours: crew::Hours::Always,
        });
    }
    let mut steps = Vec::new();
    let mut links = Vec::new();
    for i in 0..count {
        let duration = number("duration")?;
        let mut needs = Vec::new();
        for r in 0..kinds {
            let amount = number("needs")?;
            if amount > 0 {
                needs.push((r as usize, amount));
            }
        }
        for _ in 0..number("number of followers")? {
            let after = number("followers")?
                .checked_sub(1)
                .context("followers are counted from 1")?;
            links.push(crew::Link {
                before: i as usize,
                after: after as usize,
                wait: 0,
            });
        }
        steps.push(crew::Step {
            duration,
            needs,
            ..crew::Step::default()
        });
    }
    ensure!(
        number("end").is_err(),
        "there are numbers after the last activity"
    );
    let horizon = steps.iter().map(|s| s.duration).sum();
    Ok(crew::Problem::new(
        steps,
        &links,
        Vec::new(),
        resources,
        horizon,
    )?)
}
