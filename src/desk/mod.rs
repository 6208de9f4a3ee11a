//! The coach's desk: a page in her own browser, served from her own computer and to nobody else.
//!
//! ```text
//! browser ─► listen (bounded) ─► door (who may come in) ─► api ─► films · pairs · history · maker
//!                                                           │        │
//!                                 news (server-sent) ◄──────┴── reader, watcher     artist (draws with compose)
//! ```
//! Everything is kept through `store` and `reading`, as by the command line: the desk holds nothing of its own but what
//! can be undone.

mod answer;
mod api;
mod artist;
mod clips;
mod door;
mod films;
mod history;
mod job;
mod lesson;
mod listen;
mod maker;
mod news;
mod pages;
mod pair_json;
mod pairs;
mod pictures;
mod reader;
mod reel;
mod share;
mod still;
mod swings;
mod voice;
mod watch;

use std::net::{Ipv4Addr, TcpListener};
use std::path::PathBuf;
use std::sync::Arc;

use crate::messages::desk as messages;
use crate::types::{Cancel, Error, Limits, Result, Units};

/// What is put on the desk, and where it is served.
#[derive(Debug, Clone)]
pub struct DeskOptions {
    /// The folder with the clips. Default: this one.
    pub folder: PathBuf,
    /// Default: any that is free.
    pub port: Option<u16>,
    /// How much is taken on. Default: [`Limits::default`].
    pub limits: Limits,
    /// What lengths and speeds are read in. Default: metric.
    pub units: Units,
    /// A finished video may be given to a phone in the same network. Default: no.
    pub share: bool,
}

impl Default for DeskOptions {
    fn default() -> Self {
        Self {
            folder: PathBuf::from("."),
            port: None,
            limits: Limits::default(),
            units: Units::default(),
            share: false,
        }
    }
}

/// All that requests share.
struct Shared {
    door: door::Door,
    films: films::Films,
    pairs: pairs::Pairs,
    stills: still::Stills,
    history: history::History,
    reader: reader::Reader,
    maker: maker::Maker,
    swings: swings::Swings,
    voices: voice::Voices,
    share: Option<share::Share>,
    news: Arc<news::News>,
    limits: Limits,
    units: Units,
    cancel: Cancel,
}

/// A desk whose place is taken: its address is known, nobody is served yet.
pub struct Desk {
    listener: TcpListener,
    /// Where a shared video is given.
    for_phones: Option<TcpListener>,
    shared: Arc<Shared>,
}

impl Desk {
    /// Take a place on this computer's own address. A port that is in use, or a folder that is none, is an error.
    pub fn open(options: &DeskOptions) -> Result<Self> {
        if !options.folder.is_dir() {
            return Err(Error::Usage(messages::not_a_folder(&options.folder)));
        }
        let wanted = options.port.unwrap_or(0);
        let taken = |e: std::io::Error| Error::Usage(messages::port_taken(wanted, &e));
        let listener = TcpListener::bind((Ipv4Addr::LOCALHOST, wanted)).map_err(taken)?;
        listener.set_nonblocking(true).map_err(taken)?;
        let port = listener.local_addr().map_err(taken)?.port();
        let (share, for_phones) = match options.share {
            true => share::Share::open().map(|(share, listener)| (Some(share), Some(listener)))?,
            false => (None, None),
        };
        let shared = Shared {
            door: door::Door::new(port)?,
            films: films::Films::new(&options.folder, options.limits)?,
            pairs: pairs::Pairs::default(),
            stills: still::Stills::default(),
            history: history::History::default(),
            reader: reader::Reader::default(),
            maker: maker::Maker::default(),
            swings: swings::Swings::default(),
            voices: voice::Voices::default(),
            share,
            news: Arc::default(),
            limits: options.limits,
            units: options.units,
            cancel: Cancel::default(),
        };
        Ok(Self { listener, for_phones, shared: Arc::new(shared) })
    }

    /// The address with its secret: whoever has it may come in.
    pub fn address(&self) -> String {
        self.shared.door.address()
    }

    /// Serve until `cancel` asks for the end; what is running then is stopped and waited for.
    pub fn serve(self, cancel: &Cancel) -> Result<()> {
        let Self { listener, for_phones, shared } = self;
        let inner = shared.cancel.clone();
        let threads = [
            std::thread::Builder::new().name("read clips".into()).spawn({
                let shared = shared.clone();
                move || reader::work(&shared)
            }),
            std::thread::Builder::new().name("watch folder".into()).spawn({
                let shared = shared.clone();
                move || watch::work(&shared)
            }),
        ];
        let served = listen::serve(listener, for_phones, &shared, cancel);
        inner.cancel();
        shared.reader.stop_now();
        shared.maker.stop();
        shared.swings.stop();
        for thread in threads {
            thread.map_err(|_| Error::WorkerLost)?.join().map_err(|_| Error::WorkerLost)?;
        }
        shared.maker.wait();
        shared.swings.wait();
        served
    }
}
