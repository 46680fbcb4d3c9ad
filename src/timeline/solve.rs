//! The whole way from an instance to its answer.

use super::{
    answer::{Answer, Status},
    cause,
    instance::{Instance, InstanceError},
    mirror::Mirror,
    model::Model,
    relax::Rules,
    span::{Span, least_span},
    sum::least_sum,
    watch::{Onlooker, Watch},
};

/// Finds the latest day: the least span, then the least sum at that span, each with proof.
///
/// The same instance gives the same answer on every run, unless the onlooker stopped it. Lend `&mut ()` to run to the end.
///
/// # Errors
/// A figure of the instance that cannot be. That no schedule exists is no error but an answer with its reason.
pub fn solve(instance: &Instance, onlooker: &mut dyn Onlooker) -> Result<Answer, InstanceError> {
    answer(instance, onlooker, true)
}

/// The same without looking for the reason where there is no schedule: for those who try one day after another.
///
/// # Errors
/// See [`solve`].
pub fn solve_without_reason(instance: &Instance, onlooker: &mut dyn Onlooker) -> Result<Answer, InstanceError> {
    answer(instance, onlooker, false)
}

fn answer(instance: &Instance, onlooker: &mut dyn Onlooker, with_reason: bool) -> Result<Answer, InstanceError> {
    instance.check()?;
    let rules = Rules::all(instance.dishes.len());
    let mirror = Mirror::of(instance, &rules);
    let serving = |t: usize| instance.dishes[instance.tasks[t].dish].serve;
    // sum of (serve - start), where start = horizon - mirrored start - minutes.
    let offset: i64 = instance
        .tasks
        .iter()
        .enumerate()
        .map(|(t, task)| serving(t).saturating_sub(i64::from(mirror.horizon)).saturating_add(task.minutes.min(1 << 40)))
        .fold(0, i64::saturating_add);
    let mut watch = Watch::new(onlooker, offset);
    if instance.tasks.is_empty() {
        let known = Some(0);
        return Ok(Answer {
            span: known,
            span_bound: known,
            sum: known,
            sum_bound: known,
            starts: Some(Vec::new()),
            ..Answer::without_schedule(Status::Optimal, 0)
        });
    }
    if let Some(plain) = cause::at_once(instance, &mirror) {
        let impossible = Some(plain);
        return Ok(Answer { impossible, ..Answer::without_schedule(Status::Infeasible, 0) });
    }
    let found = Model::of(&mirror).map(|mut model| {
        let span = least_span(&mut model, &mut watch, mirror.work_bound());
        (model, span)
    });
    let (mut model, best, bound, starts) = match found {
        Some((model, Span::Known { best: Some(best), bound, starts })) => (model, best, bound, starts),
        Some((_, Span::Known { best: None, bound, .. })) => {
            let span_bound = Some(i64::from(bound));
            return Ok(Answer { span_bound, ..Answer::without_schedule(Status::Unknown, watch.clashes) });
        }
        None | Some((_, Span::Impossible)) => {
            let nodes = watch.clashes;
            let impossible = with_reason.then(|| cause::search(instance, &mut watch));
            return Ok(Answer { impossible, ..Answer::without_schedule(Status::Infeasible, nodes) });
        }
    };
    let span_proven = bound >= best;
    let (starts, sum, sum_bound) = if span_proven {
        let sum = least_sum(&mut model, &mirror, &mut watch, best, starts);
        (sum.starts, sum.best, Some(sum.bound + offset))
    } else {
        let sum = starts.iter().map(|&s| i64::from(s)).sum::<i64>();
        (starts, sum, None)
    };
    let sum = sum + offset;
    let status = match (span_proven, sum_bound) {
        (true, Some(bound)) if bound >= sum => Status::Optimal,
        (true, _) => Status::SpanOptimal,
        _ => Status::Feasible,
    };
    let right = starts.iter().zip(&mirror.jobs).map(|(&s, j)| i64::from(mirror.horizon - s - j.minutes)).collect();
    Ok(Answer {
        status,
        span: Some(i64::from(best)),
        span_bound: Some(i64::from(bound.min(best))),
        sum: Some(sum),
        sum_bound,
        starts: Some(right),
        impossible: None,
        nodes: watch.clashes,
    })
}
