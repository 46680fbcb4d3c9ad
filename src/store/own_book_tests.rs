//! Are own entries kept, told of when broken, and never lost?

use super::*;
use crate::book::check_book;

fn places() -> (tempfile::TempDir, Places) {
    let folder = tempfile::tempdir().unwrap();
    let places = Places::under(folder.path());
    (folder, places)
}

fn dish(name: &str) -> Arc<Dish> {
    let shipped = Book::shipped().unwrap();
    let id = DishId::new("sharp-slaw-pear-mustard").unwrap();
    Arc::new(Dish { name: name.into(), ..(**shipped.dish(&id).unwrap()).clone() })
}

fn kind() -> Arc<Kind> {
    Book::shipped().unwrap().kind(&KindId::new("celeriac").unwrap()).unwrap().clone()
}

fn keep(own: &mut OwnBook, entry: Entry) {
    own.perform(&OwnChange::Keep(entry)).unwrap();
}

fn file(places: &Places, name: &str) -> PathBuf {
    places.data.join("book").join(name)
}

#[test]
fn every_shipped_entry_comes_back_as_it_was_kept() {
    let (_folder, places) = places();
    let shipped = Book::shipped().unwrap();
    let mut own = OwnBook::load(&places);
    let entries = || shipped.dishes().cloned().map(Entry::Dish).chain(shipped.kinds().cloned().map(Entry::Kind));
    entries().for_each(|e| keep(&mut own, e));
    let again = OwnBook::load(&places);
    assert!(again.troubles().is_empty(), "{:?}", again.troubles());
    assert!(entries().eq(again.entries().cloned()));
    assert_eq!(check_book(&again.book()), []);
}

#[test]
fn a_kept_dish_shadows_the_shipped_one_and_knows_its_file_and_line() {
    let (_folder, places) = places();
    keep(&mut OwnBook::load(&places), Entry::Dish(dish("My slaw")));
    let own = OwnBook::load(&places);
    let book = Book::shipped().unwrap().extended_by(own.book());
    let id = dish("").id.clone();
    assert_eq!(book.dish(&id).unwrap().name, "My slaw");
    let place = book.dish_place(&id).unwrap();
    assert_eq!(place.file, "dishes/sharp-slaw-pear-mustard.ron");
    let text = fs::read_to_string(file(&places, &place.file)).unwrap();
    assert!(text.lines().nth(place.line - 1).unwrap().contains(id.as_str()), "{place}");
}

#[test]
fn a_broken_file_is_told_by_line_and_left_alone_while_the_rest_is_read() {
    let (_folder, places) = places();
    let mut own = OwnBook::load(&places);
    keep(&mut own, Entry::Dish(dish("My slaw")));
    keep(&mut own, Entry::Kind(kind()));
    let path = file(&places, "dishes/sharp-slaw-pear-mustard.ron");
    let broken = fs::read_to_string(&path).unwrap().replace("heat:", "heet:");
    fs::write(&path, &broken).unwrap();
    let mut own = OwnBook::load(&places);
    assert_eq!(own.entries().count(), 1, "the kind is read");
    let said = own.troubles()[0].to_string();
    let line = 1 + broken.lines().position(|l| l.contains("heet:")).unwrap();
    assert!(said.contains(&format!("sharp-slaw-pear-mustard.ron, line {line}")), "{said}");
    assert!(said.contains("did you mean \"heat\""), "{said}");
    let refused = own.perform(&OwnChange::Keep(Entry::Dish(dish("Another")))).unwrap_err().to_string();
    assert!(refused.contains("could not be read"), "{refused}");
    assert_eq!(fs::read_to_string(&path).unwrap(), broken, "a broken file is never written over");
}

#[test]
fn what_is_no_entry_at_all_is_told_and_stops_nothing() {
    let (_folder, places) = places();
    fs::create_dir_all(file(&places, "dishes/folder.ron")).unwrap();
    fs::write(file(&places, "dishes/empty.ron"), "").unwrap();
    fs::write(file(&places, "dishes/bytes.ron"), [0xff, 0xfe, 0]).unwrap();
    fs::write(file(&places, "dishes/newer.ron"), "(version: 9, dish: ())").unwrap();
    fs::write(file(&places, "dishes/notes.txt"), "not an entry").unwrap();
    let own = OwnBook::load(&places);
    let said: Vec<String> = own.troubles().iter().map(ToString::to_string).collect();
    assert_eq!(said.len(), 4, "{said:?}");
    assert!(said.iter().any(|s| s.contains("newer Tranche (version 9)")), "{said:?}");
}

#[test]
fn an_id_that_stands_twice_is_told_and_both_files_stay() {
    let (_folder, places) = places();
    keep(&mut OwnBook::load(&places), Entry::Dish(dish("My slaw")));
    let text = fs::read_to_string(file(&places, "dishes/sharp-slaw-pear-mustard.ron")).unwrap();
    fs::write(file(&places, "dishes/zz-copy.ron"), &text).unwrap();
    let own = OwnBook::load(&places);
    assert_eq!(own.entries().count(), 1);
    let said = own.troubles()[0].to_string();
    assert!(said.contains("zz-copy.ron, line 4") && said.contains("stands already in dishes/sharp-slaw"), "{said}");
}

#[test]
fn what_another_program_wrote_meanwhile_is_not_written_over() {
    let (_folder, places) = places();
    let mut own = OwnBook::load(&places);
    keep(&mut own, Entry::Dish(dish("My slaw")));
    let path = file(&places, "dishes/sharp-slaw-pear-mustard.ron");
    let theirs = fs::read_to_string(&path).unwrap().replace("My slaw", "Their slaw");
    fs::write(&path, &theirs).unwrap();
    for change in [OwnChange::Keep(Entry::Dish(dish("Mine again"))), OwnChange::TakeAway(EntryId::Dish(dish("").id.clone()))] {
        assert!(matches!(own.perform(&change), Err(StoreError::ChangedOnDisk { .. })));
    }
    assert_eq!(fs::read_to_string(&path).unwrap(), theirs);
}

#[test]
fn what_is_taken_away_comes_back_and_is_never_lost() {
    let (_folder, places) = places();
    let mut own = OwnBook::load(&places);
    keep(&mut own, Entry::Dish(dish("My slaw")));
    let id = EntryId::Dish(dish("").id.clone());
    own.perform(&OwnChange::TakeAway(id.clone())).unwrap();
    assert!(!own.has(&id) && !OwnBook::load(&places).has(&id), "it is gone, and stays so after a restart");
    assert!(fs::read_to_string(file(&places, "away/dishes-sharp-slaw-pear-mustard.ron")).unwrap().contains("My slaw"));
    own.perform(&OwnChange::BringBack).unwrap();
    assert!(own.has(&id) && own.last_taken().is_none());
    assert_eq!(OwnBook::load(&places).entries().next().unwrap().name(), "My slaw");
}

#[test]
fn what_no_plan_could_carry_is_neither_kept_nor_read() {
    let (_folder, places) = places();
    let mut own = OwnBook::load(&places);
    let refused = own.perform(&OwnChange::Keep(Entry::Dish(dish(&"long ".repeat(100))))).unwrap_err().to_string();
    assert!(refused.contains("500 characters long; 200 is the most"), "{refused}");
    assert!(own.entries().next().is_none() && !file(&places, "dishes").exists());
    keep(&mut own, Entry::Dish(dish("My slaw")));
    let path = file(&places, "dishes/sharp-slaw-pear-mustard.ron");
    let long = fs::read_to_string(&path).unwrap().replace("My slaw", &"long ".repeat(100));
    fs::write(&path, long).unwrap();
    let own = OwnBook::load(&places);
    let said = own.troubles()[0].to_string();
    assert!(said.contains(".ron, line 4: the name of a dish is 500"), "{said}");
}

#[test]
fn a_book_without_a_place_keeps_its_entries_in_mind_alone() {
    let mut own = OwnBook::default();
    keep(&mut own, Entry::Dish(dish("My slaw")));
    let id = EntryId::Dish(dish("").id.clone());
    assert!(own.has(&id));
    own.perform(&OwnChange::TakeAway(id.clone())).unwrap();
    assert!(!own.has(&id));
    own.perform(&OwnChange::BringBack).unwrap();
    assert!(own.has(&id));
}
