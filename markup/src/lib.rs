//! `view!`: elements written as in HTML, built by a few functions that all pages share.
//!
//! The framework's own macro gives each element a type of its own, and each type its own machine
//! code; in this page that was two thirds of the download. Here every element becomes the same few
//! calls into `crate::ui::tree`, whatever it holds.
//!
//! What can be written: `<tag name="text" name=value name=move || value>`, `on:event=closure`,
//! `prop:name=closure`, `style:name=value`, `node_ref=node`, quoted text, and `{anything that
//! becomes a tree}` between the tags.

use proc_macro2::{Span, TokenStream};
use quote::{ToTokens, quote, quote_spanned};
use rstml::node::{KeyedAttribute, Node, NodeAttribute, NodeBlock, NodeElement};
use syn::spanned::Spanned;
use syn::{Error, Expr, Ident, Result, Stmt};

/// Builds a tree from elements.
#[proc_macro]
pub fn view(tokens: proc_macro::TokenStream) -> proc_macro::TokenStream {
    let built = rstml::parse(tokens).and_then(|nodes| several(&nodes));
    built.unwrap_or_else(Error::into_compile_error).into()
}

/// One tree from nodes that stand side by side.
fn several(nodes: &[Node]) -> Result<TokenStream> {
    if let [one] = nodes {
        return node(one);
    }
    let nodes = nodes.iter().map(node).collect::<Result<Vec<_>>>()?;
    Ok(quote! { crate::ui::tree::Tree::many([#(#nodes),*].into()) })
}

fn node(node: &Node) -> Result<TokenStream> {
    match node {
        Node::Element(it) => element(it),
        Node::Text(text) => {
            let text = &text.value;
            Ok(quote! { crate::ui::tree::Tree::words(#text) })
        }
        Node::Block(block) => {
            let value = without_braces(block);
            Ok(quote! { crate::ui::tree::IntoTree::into_tree(#value) })
        }
        other => Err(Error::new(other.span(), "only elements, quoted text and {blocks} go here")),
    }
}

/// The value in a block of one expression, which needs no braces as an argument.
fn without_braces(block: &NodeBlock) -> TokenStream {
    if let NodeBlock::ValidBlock(block) = block
        && let [Stmt::Expr(value, None)] = block.stmts.as_slice()
    {
        return value.to_token_stream();
    }
    block.to_token_stream()
}

fn element(element: &NodeElement<rstml::Infallible>) -> Result<TokenStream> {
    let tag = element.name().to_string();
    let span = element.name().span();
    let new = if SVG.contains(&tag.as_str()) {
        quote_spanned! {span=> crate::ui::tree::Element::drawn(#tag) }
    } else {
        quote_spanned! {span=> crate::ui::tree::Element::new(#tag) }
    };
    let parts = element.attributes().iter().map(attribute).collect::<Result<Vec<_>>>()?;
    let children = element.children().iter().map(node).collect::<Result<Vec<_>>>()?;
    Ok(quote! {{
        let mut element = #new;
        #(element #parts;)*
        #(element.add(#children);)*
        element.done()
    }})
}

/// Tags of drawings; the browser makes them in a namespace of their own.
const SVG: [&str; 17] = [
    "svg", "g", "defs", "pattern", "path", "rect", "line", "circle", "ellipse", "polyline",
    "polygon", "text", "tspan", "clipPath", "mask", "marker", "use",
];

fn attribute(attribute: &NodeAttribute) -> Result<TokenStream> {
    let NodeAttribute::Attribute(attribute) = attribute else {
        return Err(Error::new(attribute.span(), "write name=value"));
    };
    let name = attribute.key.to_string();
    let span = attribute.key.span();
    let Some((kind, rest)) = name.split_once(':') else {
        return plain(attribute, &name, span);
    };
    let value = value_of(attribute)?;
    match kind {
        "on" => {
            let event = Ident::new(event_type(rest), span);
            Ok(quote_spanned! {span=>
                .on(#rest, crate::ui::tree::handler::<crate::ui::tree::event::#event>(#value))
            })
        }
        "prop" => Ok(quote_spanned! {span=>
            .property(#rest, crate::ui::tree::IntoValue::into_value(#value))
        }),
        "style" => Ok(quote_spanned! {span=>
            .style(#rest, crate::ui::tree::IntoValue::into_value(#value))
        }),
        _ => Err(Error::new(span, "only on:, prop: and style: are known")),
    }
}

fn plain(attribute: &KeyedAttribute, name: &str, span: Span) -> Result<TokenStream> {
    // A name alone is an attribute that is there without a value.
    let Some(value) = attribute.value() else {
        return Ok(quote_spanned! {span=> .with(#name, "") });
    };
    if name == "node_ref" {
        return Ok(quote_spanned! {span=>
            .reference(crate::ui::tree::reference(#value))
        });
    }
    if let Expr::Lit(literal) = value
        && let syn::Lit::Str(text) = &literal.lit
    {
        return Ok(quote_spanned! {span=> .with(#name, #text) });
    }
    Ok(quote_spanned! {span=>
        .attribute(#name, crate::ui::tree::IntoValue::into_value(#value))
    })
}

fn value_of(attribute: &KeyedAttribute) -> Result<&Expr> {
    attribute.value().ok_or_else(|| Error::new(attribute.key.span(), "a value is missing"))
}

fn event_type(name: &str) -> &'static str {
    match name {
        "click" | "dblclick" => "MouseEvent",
        "keydown" | "keyup" => "KeyboardEvent",
        _ => "Event",
    }
}
