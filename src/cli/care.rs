//! What is said when something that can be shared was made.

use std::path::Path;

use swingpair::messages;
use swingpair::store;

use super::progress::Talk;

/// Say, once for each of today's clips, that those who are seen are asked before it is shared. Whether it was said
/// is kept beside the clip and nowhere else; where nothing can be kept there, it is said each time.
pub fn ask_before_sharing(today: &Path, talk: &Talk) {
    let kept = store::load(today).unwrap_or_default();
    if kept.told_to_ask || talk.is_quiet() {
        return;
    }
    talk.say(messages::files::ASK_BEFORE_SHARING);
    if let Some(key) = kept.key {
        // Not being able to keep it is no error: the clip is made.
        let _ = store::update(today, &key.content, |s| s.told_to_ask = true);
    }
}
