//! `gearside workbook`: builds workbooks and keys.

use std::path::{Path, PathBuf};

use super::arguments::WorkbookArguments;
use super::loading;
use super::out::{Ended, Out};
use crate::ground::files::{start_folder, write_folder};
use crate::ground::nearest_name;
use crate::pages::{Order, default_templates, gallery, site};
use crate::programme::Programme;

pub(super) fn run(arguments: &WorkbookArguments, programme: Option<&Path>, out: &mut Out) -> Ended {
    if let Some(folder) = &arguments.templates {
        return write_templates(folder, out);
    }
    let (loaded, mut ended) = match loading::programme(&loading::origin(programme), out) {
        Ok(loaded) => loaded,
        Err(ended) => return ended,
    };
    if let Some(stage) = &arguments.stage
        && !loaded.stages.iter().any(|known| known.id.as_str() == stage)
    {
        let known: Vec<&str> = loaded.stages.iter().map(|stage| stage.id.as_str()).collect();
        let mend = nearest_name(stage, known.iter().copied())
            .map_or_else(|| format!("the stages are: {}", known.join(", ")), |near| format!("did you mean `{near}`?"));
        return out.usage(&format!("there is no stage `{stage}`"), &mend);
    }
    let template_folder = programme.unwrap_or(Path::new(".")).join("site-template");
    let order = Order {
        seed: arguments.seed.clone(),
        stage: arguments.stage.clone(),
        template_folder: template_folder.is_dir().then_some(template_folder),
    };
    if arguments.gallery {
        return ended.max(write_gallery(&loaded, &order, arguments.output.as_deref(), out));
    }
    let site = match site(&loaded, &order) {
        Ok(site) => site,
        Err(faults) => return out.content(&faults),
    };
    let output = arguments.output.clone().unwrap_or_else(|| PathBuf::from("out/workbook"));
    let keys = keys_folder(&output);
    for (folder, files) in [(&output, &site.workbook), (&keys, &site.keys)] {
        if let Err(fault) = write_folder(folder, files) {
            ended = ended.max(out.folder(&fault));
            return ended;
        }
    }
    let front = output.join("index.html");
    if out.json {
        let value = serde_json::json!({
            "workbook": output.display().to_string(),
            "keys": keys.display().to_string(),
            "pages": site.workbook.iter().map(|(name, _)| name).collect::<Vec<_>>(),
            "faults": out.faults_json(),
        });
        out.value(&value);
    } else {
        out.line(&front.display().to_string());
        out.note(&format!("{} pages; keys for the instructor in {}", site.workbook.len(), keys.display()));
    }
    ended
}

/// The keys lie beside the workbook, never in it.
fn keys_folder(output: &Path) -> PathBuf {
    let mut name = output.file_name().unwrap_or_default().to_owned();
    name.push("-keys");
    output.with_file_name(name)
}

fn write_gallery(programme: &Programme, order: &Order, output: Option<&Path>, out: &mut Out) -> Ended {
    let files = match gallery(programme, order) {
        Ok(files) => files,
        Err(faults) => return out.content(&faults),
    };
    let folder = output.unwrap_or(Path::new("out/gallery"));
    match write_folder(folder, &files) {
        Ok(()) => {
            out.line(&folder.join("index.html").display().to_string());
            out.note(&format!("{} figures, each in six examples", files.len() - 1));
            Ended::Done
        }
        Err(fault) => out.folder(&fault),
    }
}

fn write_templates(folder: &Path, out: &mut Out) -> Ended {
    match start_folder(folder, &default_templates()) {
        Ok(()) => {
            out.line(&folder.display().to_string());
            out.note("Keep the files you change in a folder `site-template` of your programme, and delete the rest.");
            Ended::Done
        }
        Err(fault) => out.folder(&fault),
    }
}
