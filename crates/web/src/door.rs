//! Who may come in.

use std::sync::Arc;

use axum::extract::{Request, State};
use axum::middleware::Next;
use axum::response::Response;

use crate::asked::Visitor;
use crate::bench::Bench;

/// The door of the pages.
#[derive(Debug, Default)]
pub struct Door {}

/// Stands before every address.
pub async fn let_in(State(bench): State<Arc<Bench>>, mut request: Request, next: Next) -> Response {
    let visitor = Visitor {
        who: Some(bench.keeper.clone()),
        may_write: true,
    };
    request.extensions_mut().insert(visitor);
    next.run(request).await
}
