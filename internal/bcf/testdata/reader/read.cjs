// Prints the topics of an issue list as JSON: node read.cjs VERSION FILE
const fs = require("fs");

const list = (x) => (x === undefined ? [] : Array.isArray(x) ? x : [x]);
const guid = (x) => (x && typeof x === "object" ? x["@_Guid"] || x.guid : x);
const xyz = (v) => (v ? [v.x, v.y, v.z] : null);

async function main(version, file) {
  const dialect = version === "3.0" ? "3.0" : "2.1";
  const { BcfReader } = require("@parametricos/bcf-js/dist/" + dialect);
  const reader = new BcfReader();
  await reader.read(new Uint8Array(fs.readFileSync(file)));
  const topics = list(reader.project && reader.project.markups).map(({ header, topic, viewpoints }) => ({
    guid: topic.guid,
    title: topic.title,
    type: topic.topic_type,
    status: topic.topic_status,
    priority: topic.priority,
    index: topic.index,
    labels: list(topic.labels),
    description: topic.description,
    author: topic.creation_author,
    date: topic.creation_date,
    models: list(header && header.files).flatMap((f) => list(f.file || f)).map((f) => f.filename),
    comments: list(topic.comments).map((c) => ({ guid: c.guid, text: c.comment, viewpoint: guid(c.viewpoint) })),
    views: list(viewpoints).map((v) => ({
      guid: v.guid,
      selected: list(v.components && v.components.selection).map((c) => c.ifc_guid),
      eye: xyz(v.perspective_camera && v.perspective_camera.camera_view_point),
      direction: xyz(v.perspective_camera && v.perspective_camera.camera_direction),
      up: xyz(v.perspective_camera && v.perspective_camera.camera_up_vector),
      field: v.perspective_camera && v.perspective_camera.field_of_view,
    })),
  }));
  process.stdout.write(JSON.stringify(topics));
}

main(process.argv[2], process.argv[3]);
