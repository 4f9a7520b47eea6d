//! Whether files of the source use each other in circles.
//!
//! Every file of `src` is parsed, the paths in it are followed to the file that says what they name (through
//! `pub use` of the folders), and no chain of them may lead back to its beginning. The rule is the project's own;
//! what a path means is the language's.

use std::collections::{BTreeMap, BTreeSet};

use syn::visit::{self, Visit};
use syn::{ItemUse, Path, UseTree, Visibility};

use crate::support::{files_under, read};

/// A module by its path from the root of the crate.
type Module = Vec<String>;

/// What one file says of others.
#[derive(Default)]
struct Said {
    /// Paths that it uses, as written.
    used: Vec<Vec<String>>,
    /// Names that it hands on, and what they are.
    handed_on: Vec<(String, Vec<String>)>,
    /// Names that it takes in, and what they are.
    taken_in: Vec<(String, Vec<String>)>,
}

impl<'ast> Visit<'ast> for Said {
    fn visit_item_use(&mut self, item: &'ast ItemUse) {
        let mut found = Vec::new();
        expand(&item.tree, &mut Vec::new(), &mut found);
        match item.vis {
            Visibility::Inherited => self.taken_in.extend(found),
            _ => self.handed_on.extend(found),
        }
    }

    fn visit_path(&mut self, path: &'ast Path) {
        let segments = path.segments.iter();
        self.used
            .push(segments.map(|one| one.ident.to_string()).collect());
        visit::visit_path(self, path);
    }
}

/// The names of a `use` with the path of each.
fn expand(tree: &UseTree, before: &mut Vec<String>, found: &mut Vec<(String, Vec<String>)>) {
    let name = |before: &[String], last: String| {
        let mut path = before.to_vec();
        path.push(last);
        path
    };
    match tree {
        UseTree::Path(path) => {
            before.push(path.ident.to_string());
            expand(&path.tree, before, found);
            before.pop();
        }
        UseTree::Name(one) if one.ident == "self" => {
            found.push((before.last().cloned().unwrap_or_default(), before.clone()));
        }
        UseTree::Name(one) => {
            found.push((one.ident.to_string(), name(before, one.ident.to_string())));
        }
        UseTree::Rename(one) => {
            found.push((one.rename.to_string(), name(before, one.ident.to_string())));
        }
        UseTree::Glob(_) => found.push(("*".to_owned(), name(before, "*".to_owned()))),
        UseTree::Group(group) => {
            for one in &group.items {
                expand(one, before, found);
            }
        }
    }
}

/// The files of the source, and what each says.
struct Source(BTreeMap<Module, Said>);

impl Source {
    fn of(files: &[(String, String)]) -> Self {
        let said = files.iter().map(|(path, text)| {
            let mut said = Said::default();
            said.visit_file(&syn::parse_file(text).unwrap_or_else(|e| panic!("{path}: {e}")));
            (module_of(path), said)
        });
        Self(said.collect())
    }

    /// A path as a module reads it, from the root of the crate; none for what lies outside the crate.
    fn absolute(&self, module: &Module, path: &[String]) -> Option<Vec<String>> {
        let (first, rest) = path.split_first()?;
        let own = |count: usize| module.get(..module.len().checked_sub(count)?);
        match first.as_str() {
            "crate" => Some(rest.to_vec()),
            "self" => Some([module.as_slice(), rest].concat()),
            "super" => {
                let up = path.iter().take_while(|one| *one == "super").count();
                Some([own(up)?, path.get(up..)?].concat())
            }
            _ => {
                let child = [module.as_slice(), path.get(..1)?].concat();
                self.0
                    .contains_key(&child)
                    .then(|| [module.as_slice(), path].concat())
            }
        }
    }

    /// The module that says what a path names.
    fn holder(&self, path: &[String], steps: usize) -> Module {
        let mut module: Module = Vec::new();
        for (place, name) in path.iter().enumerate() {
            let inner = [module.as_slice(), std::slice::from_ref(name)].concat();
            if self.0.contains_key(&inner) {
                module = inner;
                continue;
            }
            let handed_on = &self.0[&module].handed_on;
            let behind = &path[place + 1..];
            for (known, what) in handed_on {
                let rest = match known.as_str() {
                    "*" => &path[place..],
                    known if known == name => behind,
                    _ => continue,
                };
                let what = what.strip_suffix(&["*".to_owned()]).unwrap_or(what);
                let Some(whole) = self.absolute(&module, what).filter(|_| steps < 9) else {
                    continue;
                };
                let whole = [whole.as_slice(), rest].concat();
                let found = self.holder(&whole, steps + 1);
                if known != "*" || found != module {
                    return found;
                }
            }
            return module;
        }
        module
    }

    /// The files that a file uses.
    fn uses(&self, module: &Module) -> BTreeSet<Module> {
        let said = &self.0[module];
        let mut paths: Vec<Vec<String>> = Vec::new();
        for (_, what) in &said.taken_in {
            paths.extend(self.absolute(module, what));
        }
        for path in &said.used {
            let taken_in = said.taken_in.iter();
            let mut known = taken_in.filter(|(name, _)| Some(name) == path.first());
            match known.next() {
                Some((_, what)) => {
                    let whole = [what.as_slice(), &path[1..]].concat();
                    paths.extend(self.absolute(module, &whole));
                }
                None if path.len() > 1 => paths.extend(self.absolute(module, path)),
                None => {}
            }
        }
        let mut uses = BTreeSet::new();
        for path in paths {
            let holder = self.holder(&path, 0);
            // A folder that is only named is used by what follows it, which is a path of its own.
            let only_named = holder == path
                && self
                    .0
                    .keys()
                    .any(|one| one.starts_with(&holder) && one.len() > holder.len());
            if holder != *module && !holder.is_empty() && !only_named {
                uses.insert(holder);
            }
        }
        uses
    }

    /// The circles: of each the files that lead to each other, in order.
    fn circles(&self) -> Vec<Vec<String>> {
        let direct: BTreeMap<&Module, BTreeSet<Module>> = self
            .0
            .keys()
            .map(|module| (module, self.uses(module)))
            .collect();
        let reached = |from: &Module| {
            let mut seen: BTreeSet<Module> = BTreeSet::new();
            let mut open: Vec<Module> = direct[from].iter().cloned().collect();
            while let Some(one) = open.pop() {
                if seen.insert(one.clone()) {
                    open.extend(direct[&one].iter().cloned());
                }
            }
            seen
        };
        let reaches: BTreeMap<&Module, BTreeSet<Module>> = self
            .0
            .keys()
            .map(|module| (module, reached(module)))
            .collect();
        let mut circles: BTreeSet<Vec<String>> = BTreeSet::new();
        for (module, seen) in &reaches {
            if seen.contains(*module) {
                let both = seen
                    .iter()
                    .filter(|other| reaches[*other].contains(*module));
                circles.insert(both.map(|one| one.join("::")).collect());
            }
        }
        circles.into_iter().collect()
    }
}

/// The module that a file is.
fn module_of(path: &str) -> Module {
    let inner = path
        .strip_prefix("src/")
        .unwrap()
        .strip_suffix(".rs")
        .unwrap();
    let mut module: Module = inner.split('/').map(str::to_owned).collect();
    if module
        .last()
        .is_some_and(|last| last == "mod" || last == "lib")
    {
        module.pop();
    }
    module
}

#[test]
fn no_file_leads_back_to_itself() {
    let files = files_under("src", ".rs").into_iter();
    let files = files.filter(|path| path != "src/main.rs");
    let files: Vec<(String, String)> = files.map(|path| (path.clone(), read(&path))).collect();
    let circles = Source::of(&files).circles();
    assert!(circles.is_empty(), "{circles:#?}");
}

#[test]
fn the_reader_of_circles_sees_what_it_should() {
    let tree = |files: &[(&str, &str)]| {
        let files = files.iter();
        let files: Vec<_> = files
            .map(|(path, text)| ((*path).to_owned(), (*text).to_owned()))
            .collect();
        Source::of(&files).circles()
    };
    let root = ("src/lib.rs", "mod a; mod b;");
    let two = |a: &str, b: &str| tree(&[root, ("src/a.rs", a), ("src/b.rs", b)]);
    let circle = vec![vec!["a".to_owned(), "b".to_owned()]];
    // A type, a call and a name that was taken in each are uses; texts and comments are none.
    assert_eq!(two("use super::b::B;", "fn f(x: crate::a::A) {}"), circle);
    assert_eq!(
        two(
            "use crate::b; fn f() { b::g() }",
            "use crate::a::{self, A};"
        ),
        circle
    );
    assert!(
        two(
            "use super::b::B;",
            "// crate::a\nconst X: &str = \"crate::a\";"
        )
        .is_empty()
    );
    // What a folder hands on is found where it is said.
    let folder = [
        ("src/lib.rs", "pub mod a;"),
        ("src/a/mod.rs", "mod b; mod c; pub use b::B; pub use c::*;"),
        ("src/a/b.rs", "use super::C; pub struct B;"),
        ("src/a/c.rs", "use crate::a::B; pub struct C;"),
    ];
    assert_eq!(tree(&folder), [["a::b", "a::c"]]);
    let mut one_way = folder;
    one_way[3].1 = "pub struct C;";
    assert!(tree(&one_way).is_empty());
}
